"""Run the program with ``python -m plangen``."""

from plangen.cli.main import main

raise SystemExit(main())
