"""`python -m station` is the same as the command `tarebell`."""

from station.cli import main

if __name__ == "__main__":
    main()
