"""Print the Nth shell command block of the README, so that CI runs exactly what a newcomer types."""

import re
import sys
from pathlib import Path


def main() -> None:
    """Write the block named by the first argument (1 or 2) to standard output."""
    text = Path(__file__).parent.parent.joinpath("README.md").read_text("utf-8")
    blocks = re.findall(r"```sh\n(.*?)```", text, re.S)
    sys.stdout.write(blocks[int(sys.argv[1]) - 1])


if __name__ == "__main__":
    main()
