"""The tree of a formula: its kinds and nodes, the words in it, tracing into it and spelling out of
it.
"""
