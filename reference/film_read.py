"""Reads films that the page has saved with a decoder that is not the browser's (FFmpeg, by
PyAV), and says what it finds: container, codec, size, rate, length, and how often the words
and the instrument change.

    pip install -r reference/requirements-film.txt
    python reference/film_read.py FILM.mp4 … > reference/film_read.md
"""

import sys

import av
import numpy

# Where words and instrument stand, as parts of the picture, by whether it is lying.
AREAS = {
    True: {"words": (0.578, 0.055, 0.985, 0.53), "instrument": (0.02, 0.03, 0.555, 0.97)},
    False: {"words": (0.055, 0.573, 0.945, 0.755), "instrument": (0.03, 0.025, 0.97, 0.56)},
}

# Levels of grey of 256 by which an area changes when words are exchanged, or parts turn. What
# an encoder makes of the same picture again is 1.3 at the most, other words 10 at the least.
CHANGED = {"words": 5.0, "instrument": 1.5}


def changes(pictures, area, least):
    height, width = pictures[0].shape
    left, top, right, bottom = area
    cut = [picture[int(top * height):int(bottom * height), int(left * width):int(right * width)].astype(int) for picture in pictures]
    return sum(abs(after - before).mean() > least for before, after in zip(cut, cut[1:]))


def main(paths):
    print("# Films of the page, read by another decoder\n")
    print("`python reference/film_read.py`, with FFmpeg by PyAV", av.__version__ + ".\n")
    print("| film | container, codec | size | pictures a second | pictures | length (s) | words change | instrument changes |")
    print("|---|---|---|---|---|---|---|---|")
    for path in paths:
        with av.open(path) as film:
            video = film.streams.video[0]
            container, codec, rate = film.format.name.split(",")[0], video.codec_context.name, video.average_rate
            told, length = video.frames, float(film.duration) / av.time_base
            size = (video.width, video.height)
            count, kept, last = 0, [], -1
            for frame in film.decode(video):
                assert frame.pts > last, "a picture stands out of its order"
                last = frame.pts
                # Two a second are compared.
                if count % (int(rate) // 2) == 0:
                    kept.append(frame.to_ndarray(format="gray")[::4, ::4])
                count += 1
        assert count == told, f"{count} pictures are decoded, {told} are told"
        areas = AREAS[size[0] > size[1]]
        found = [changes(kept, areas[name], CHANGED[name]) for name in ("words", "instrument")]
        name = path.rsplit("/", 1)[-1]
        print(f"| {name} | {container}, {codec} | {size[0]} × {size[1]} | {rate} | {count} | {length:.2f} | {found[0]} | {found[1]} |")


if __name__ == "__main__":
    main(sys.argv[1:])
