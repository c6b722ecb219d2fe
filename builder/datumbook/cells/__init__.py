"""What a station declares: columns, tables, forms, pictures, and the handles of their cells."""
