"""`python -m planner_io` is the same command as `brightrun`."""

from planner_io.cli import main

if __name__ == "__main__":
    main()
