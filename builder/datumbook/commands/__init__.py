"""The command line: it asks the other rooms and prints what they say."""
