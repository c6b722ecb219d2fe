"""`python -m datumbook` is the command `datumbook`."""

from datumbook.commands.app import main

if __name__ == "__main__":
    main()
