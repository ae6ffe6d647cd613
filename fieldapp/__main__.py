"""The one module that knows both the touch interface and the command line."""

import sys
from pathlib import Path


def main() -> int:
    """Run a command, or open the touch interface when there is none."""
    from fieldapp import cli

    return cli.main(sys.argv[1:], open_touch=_open_touch)


def _open_touch(data_dir: Path) -> int:
    from fieldapp.app import run_touch

    return run_touch(data_dir)


if __name__ == "__main__":
    sys.exit(main())
