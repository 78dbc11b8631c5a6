"""Cuts Libertinus Serif down to the letters and signs that are printed.

    python fonts.py FOLDER     # with LibertinusSerif-Regular.otf and -Italic.otf in it

The fonts are those of Libertinus 7.051, for instance in the crate typst-assets 0.15.1.
"""

import pathlib
import sys

from fontTools import subset

LETTERS = (
    "U+20-7E,U+A0-17F,U+2010-2014,U+2018-201E,U+2022,U+2026,U+2032,U+2033,U+2212,U+D7,U+B1,"
    "U+3B1-3C9,U+2648-2653,U+263D,U+263F,U+2640,U+2642-2645"
)

folder = pathlib.Path(sys.argv[1])
data = pathlib.Path(__file__).parent.parent / "data" / "fonts"
for cut in ("Regular", "Italic"):
    name = f"LibertinusSerif-{cut}.otf"
    subset.main(
        [
            str(folder / name),
            f"--unicodes={LETTERS}",
            "--layout-features=kern,liga,lnum",
            "--no-hinting",
            f"--output-file={data / name}",
        ]
    )
