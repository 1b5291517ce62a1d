"""What each command does and says, one file each, so that none loads what it does not need.

`cli` has the words and options of the commands and imports the file of the one that runs.
"""
