"""What is said, as data: findings of a workbook, refusals of a spec, the bibliography."""
