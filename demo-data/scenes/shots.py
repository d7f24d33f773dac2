# SPDX-License-Identifier: GPL-3.0-or-later
"""Takes a 'photo' of a drawn thing in its place: point of view, light, shadow, noise.

Everything follows from the arguments and the seed, so that the same photo is made each time.
"""

import functools
import random
import statistics

import cairo
import gi
from PIL import Image, ImageChops, ImageDraw, ImageFilter

gi.require_version("Rsvg", "2.0")
from gi.repository import Rsvg  # noqa: E402

from . import rooms, things  # noqa: E402
from .draw import Drawing  # noqa: E402

VIEWS = ("front", "wide", "side", "detail", "plate", "near", "far", "low")

# how warm the light of a place is: red, blue
LIGHT = {
    "Packing shed": (1.0, 1.0), "Packing shed > Loft": (1.08, .86), "Press house": (1.02, .97), "Cold store": (.95, 1.08),
    "Cooperage": (1.06, .88), "Glasshouse": (1.0, 1.02), "Machine shed": (1.04, .9), "Orchard yard": (1.02, .98),
    "Office": (1.05, .9),
}


def to_image(surface):
    w, h = surface.get_width(), surface.get_height()
    return Image.frombuffer("RGBA", (w, h), bytes(surface.get_data()), "raw", "BGRA", surface.get_stride(), 1)


def render(svg, w, h):
    surface = cairo.ImageSurface(cairo.FORMAT_ARGB32, w, h)
    area = Rsvg.Rectangle()
    area.x, area.y, area.width, area.height = 0, 0, w, h
    Rsvg.Handle.new_from_data(svg.encode()).render_document(cairo.Context(surface), area)
    return surface


@functools.lru_cache(maxsize=2)
def background(place):
    return render(rooms.room(place).svg(rooms.WIDE, rooms.HIGH), rooms.WIDE, rooms.HIGH)


@functools.lru_cache(maxsize=8)
def thing_handle(drawing):
    d = Drawing("thing " + drawing)
    things.THINGS[drawing][0](d)
    # room around the field: a long handle may stick out
    return Rsvg.Handle.new_from_data(d.svg(1200, 1100, (-100, -50, 1200, 1100)).encode())


@functools.lru_cache(maxsize=4)
def noise(w, h, sigma):
    # even bytes bent to a bell curve; Pillow's own effect_noise cannot be seeded
    bell = statistics.NormalDist(128, sigma)
    even = Image.frombytes("L", (w, h), random.Random(f"noise {sigma}").randbytes(w * h))
    return even.point([round(bell.inv_cdf((v + .5) / 256)) for v in range(256)])


def shadow_of(layer, w, h):
    """The thing's shadow on wall and floor: its outline, moved and blurred."""
    small = to_image(layer).getchannel("A").resize((w // 4, h // 4))
    small = ImageChops.offset(small, w // 70, h // 110).filter(ImageFilter.GaussianBlur(w / 210))
    mask = small.resize((w, h)).point(lambda v: v * 45 // 100)
    buffer = bytearray(cairo.ImageSurface.format_stride_for_width(cairo.FORMAT_A8, w) * h)
    stride = len(buffer) // h
    data = mask.tobytes()
    for y in range(h):
        buffer[y * stride:y * stride + w] = data[y * w:(y + 1) * w]
    return cairo.ImageSurface.create_for_data(buffer, cairo.FORMAT_A8, w, h, stride)


def put_background(context, place, w, h, zoom, cx, cy, mirror, blur=0):
    """Fills w x h with the place seen at zoom around (cx, cy), both in room units; lines up (cx, cy) with the middle."""
    surface = background(place)
    if blur:
        picture = to_image(surface).resize((250, 188)).filter(ImageFilter.GaussianBlur(blur)).resize((2000, 1500))
        data = bytearray(picture.tobytes("raw", "BGRA"))
        surface = cairo.ImageSurface.create_for_data(data, cairo.FORMAT_ARGB32, 2000, 1500, 8000)
    context.save()
    context.translate(w / 2, h / 2)
    context.scale(-zoom if mirror else zoom, zoom)
    context.translate(-cx, -cy)
    pattern = cairo.SurfacePattern(surface)
    pattern.set_extend(cairo.EXTEND_REFLECT)
    context.set_source(pattern)
    context.paint()
    context.restore()


def put_thing(context, drawing, w, h, x, y, size, squeeze=1.0, skew=0.0, shade=True):
    """Stands the thing with its foot at (x, y); size is the height of its field in pixels."""
    layer = cairo.ImageSurface(cairo.FORMAT_ARGB32, w, h)
    c = cairo.Context(layer)
    k = size / 1000
    c.transform(cairo.Matrix(k * squeeze, skew * k, 0, k, x - 500 * k * squeeze, y - 900 * k - 500 * skew * k))
    area = Rsvg.Rectangle()
    area.x, area.y, area.width, area.height = -100, -50, 1200, 1100
    thing_handle(drawing).render_document(c, area)
    layer.flush()
    if shade:
        context.set_source_rgba(0, 0, 0, 1)
        context.mask_surface(shadow_of(layer, w, h), 0, 0)
    context.set_source_surface(layer, 0, 0)
    context.paint()


def plate_svg(drawing, w, h):
    """The rating plate close up."""
    _, _, words, material = things.THINGS[drawing]
    d = Drawing("plate " + drawing)
    body = {"brass": "green paint", "zinc": "grey paint", "copper": "copper"}[material]
    d.rect(0, 0, 1600, 1200, body, "d")
    d.stains(0, 0, 1600, 1200, 18, "#8a4722", .5)
    d.stains(0, 0, 1600, 1200, 10, "#0d0a06", .5)
    d.add('<rect x="318" y="276" width="1000" height="680" rx="26" fill="#000" fill-opacity=".45"/>')
    d.rect(300, 250, 1000, 680, material, "v", 26, 5)
    d.add('<rect x="334" y="284" width="932" height="612" rx="14" fill="none" stroke="#2a1c06" stroke-opacity=".7" stroke-width="7"/>')
    for x, y in ((372, 322), (1228, 322), (372, 858), (1228, 858)):
        d.disc(x, y, 25, "steel")
        d.stroke(f"M{x - 17} {y + 9} L{x + 17} {y - 9}", "#2b2f33", 6)
    for i, line in enumerate(words):
        size = min(118 if i == 0 else 88, 1120 / max(len(line.replace("&amp;", "&")), 1))
        y = 470 + i * 170
        d.text(803, y + 3, line, size, "#fff6d0", .5)
        d.text(800, y, line, size, "#1b1206", .92)
    d.stains(300, 250, 1000, 680, 12, "#3b2a10", .5)
    for _ in range(26):
        x, y = d.random.uniform(320, 1240), d.random.uniform(280, 900)
        d.stroke(f"M{x:.0f} {y:.0f} l{d.random.uniform(-60, 60):.0f} {d.random.uniform(-30, 30):.0f}", "#fff8e0", 2, .5)
    return d.svg(w, h, (0, 0, 1600, 1200) if w > h else (350, 0, 900, 1200))


def compose(place, drawing, view, w, h, r, neighbour=None):
    """The scene without the camera's own faults."""
    surface = cairo.ImageSurface(cairo.FORMAT_ARGB32, w, h)
    c = cairo.Context(surface)
    if view == "plate" and things.THINGS[drawing][2]:
        c.set_source_surface(render(plate_svg(drawing, w, h), w, h), 0, 0)
        c.translate(w / 2, h / 2)
        c.rotate(r.uniform(-.03, .03))
        c.scale(1.06, 1.06)
        c.translate(-w / 2, -h / 2)
        c.set_source_surface(render(plate_svg(drawing, w, h), w, h), 0, 0)
        c.paint()
        return surface
    c.translate(w / 2, h / 2)
    c.rotate(r.uniform(-.018, .018))
    c.scale(1.03, 1.03)
    c.translate(-w / 2, -h / 2)
    home = (sum(map(ord, drawing)) * 37) % 700 + 650
    mirror = view in ("side", "low")
    unit = min(w, h) / 1200
    if view in ("wide", "far"):
        zoom = .8 * unit * (1 if w > h else 1.08)
        put_background(c, place, w, h, zoom, 1000 + r.uniform(-40, 40), 750 + r.uniform(-20, 10), False)
        floor = h / 2 + (rooms.FLOOR - 750) * zoom
        x = w * r.uniform(.34, .44)
        size = (640 if view == "wide" else 540) * unit
        if neighbour:
            put_thing(c, neighbour, w, h, w * r.uniform(.78, .84), floor + 90 * unit, size * .84)
        if drawing:
            put_thing(c, drawing, w, h, x, floor + 150 * unit, size)
        return surface
    if view in ("detail", "plate", "near"):
        fx, fy = things.THINGS[drawing][1]
        size = (2300 if view != "near" else 1600) * unit * r.uniform(.95, 1.08)
        put_background(c, place, w, h, 1.5 * unit, home, 700, False, 3)
        k = size / 1000
        fx, fy = fx + r.uniform(-30, 30), fy + r.uniform(-25, 25)
        put_thing(c, drawing, w, h, w / 2 + (500 - fx) * k, h / 2 + (900 - fy) * k, size)
        return surface
    zoom = {"front": 1.0, "side": 1.12, "low": 1.2}[view] * unit
    put_background(c, place, w, h, zoom, home + (260 if mirror else 0), 760, mirror)
    size = {"front": 1010, "side": 960, "low": 1060}[view] * unit * r.uniform(.96, 1.03)
    squeeze = {"front": 1.0, "side": .8, "low": .92}[view]
    skew = {"front": 0, "side": -.06, "low": .05}[view]
    put_thing(c, drawing, w, h, w * r.uniform(.47, .53), h / 2 + 490 * unit, size, squeeze, skew)
    return surface


def tune(picture, place, r, grain):
    """Light, white balance and noise."""
    red, blue = LIGHT.get(place, (1, 1))
    bright = r.choice((.82, .92, 1.0, 1.05, 1.12)) * r.uniform(.97, 1.03)
    warm = r.uniform(.97, 1.03)
    gamma = r.uniform(.92, 1.08)
    luts = []
    for gain in (bright * red * warm, bright, bright * blue / warm):
        luts += [min(255, int(255 * (v / 255) ** gamma * gain + .5)) for v in range(256)]
    picture = picture.convert("RGB").point(luts)
    if bright < .9 and r.random() < .6:  # a flash: bright in the middle
        glow = Image.radial_gradient("L").resize(picture.size).point(lambda v: max(0, 60 - v // 3))
        picture = ImageChops.add(picture, Image.merge("RGB", (glow, glow, glow)))
    w, h = picture.size
    tile = ImageChops.offset(noise(w, h, grain), r.randrange(w), r.randrange(h))
    return ImageChops.add(picture, Image.merge("RGB", (tile, tile, tile)), 1, -128)


def photo(place, drawing, view, seed, size=(1600, 1200), neighbour=None, grain=6):
    """A finished picture, upright, as a Pillow image. drawing may be None with the view 'far': the place alone."""
    r = random.Random(f"{seed} {place} {drawing} {view}")
    surface = compose(place, drawing, view, size[0], size[1], r, neighbour)
    return tune(to_image(surface), place, r, grain)


def tag_photo(place, number, seed, size=(1600, 1200)):
    """A tag with a drawn number, held before the camera."""
    r = random.Random(f"tag {seed} {number}")
    w, h = size
    surface = cairo.ImageSurface(cairo.FORMAT_ARGB32, w, h)
    c = cairo.Context(surface)
    put_background(c, place, w, h, 1.4, 900, 800, False, 4)
    d = Drawing(f"tag {number}")
    d.add('<g transform="rotate(%.1f 800 600)">' % r.uniform(-6, 6))
    d.add('<rect x="376" y="246" width="880" height="730" rx="40" fill="#000" fill-opacity=".4"/>')
    d.path("M430 220 H1170 L1240 320 V880 L1170 960 H430 L360 880 V320 Z", "paper", "v", 5)
    d.disc(800, 300, 34, "brass")
    d.dark(800, 300, 18, 18)
    d.tube("M800 300 q-40 -160 60 -320", 12, "canvas")
    d.text(800, 780, str(number), 420, "#1a1a1a", .92)
    d.add("</g>")
    c.set_source_surface(render(d.svg(w, h, (0, 0, 1600, 1200)), w, h), 0, 0)
    c.paint()
    return tune(to_image(surface), place, r, 6)


def pocket_photo(seed, size=(1600, 1200)):
    """A picture taken by mistake: dark and blurred."""
    r = random.Random(f"pocket {seed}")
    picture = Image.new("RGB", (64, 48), (24, 18, 14))
    pen = ImageDraw.Draw(picture)
    for _ in range(12):
        x, y = r.randrange(64), r.randrange(48)
        pen.ellipse((x, y, x + 20, y + 14), fill=(r.randrange(20, 70), r.randrange(16, 50), r.randrange(10, 40)))
    picture = picture.filter(ImageFilter.GaussianBlur(4)).resize(size, Image.BICUBIC)
    return tune(picture, "", r, 16)
