"""The command line: it asks the other rooms and prints what they say.

A command loads what it needs when it is run, so that `datumbook --help` is quick.
"""
