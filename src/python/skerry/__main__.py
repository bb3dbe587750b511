"""`python -m skerry ARGS` is the command line."""
import shutil
import sys

from . import _skerry


def main() -> int:
    utf8 = (sys.stdout.encoding or "").lower().replace("-", "") == "utf8" and sys.stdout.isatty()
    return _skerry.run(
        sys.argv[1:], sys.stdout.isatty(), sys.stderr.isatty(), utf8, shutil.get_terminal_size((100, 24)).columns
    )


if __name__ == "__main__":
    sys.exit(main())
