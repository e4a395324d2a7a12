import os
import sys

from django.core.management import execute_from_command_line


def main() -> None:
    """The `mangerline` console script: the same commands as manage.py."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "herd.settings")
    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
