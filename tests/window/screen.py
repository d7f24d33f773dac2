# SPDX-License-Identifier: GPL-3.0-or-later
"""What is really on the screen, by the pixel."""

import gi

gi.require_version("Gdk", "3.0")
from gi.repository import Gdk  # noqa: E402
from PIL import Image  # noqa: E402


def grab(box):
    """The picture within x, y, width and height."""
    x, y, width, height = box
    pixels = Gdk.pixbuf_get_from_window(Gdk.get_default_root_window(), x, y, width, height)
    return Image.frombytes("RGB", (width, height), pixels.get_pixels(), "raw", "RGBX" if pixels.get_has_alpha() else "RGB",
                           pixels.get_rowstride())
