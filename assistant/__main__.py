"""`python -m assistant`: the same as the `wheelcall` command."""

from assistant.app.cli import main

main()
