# SPDX-License-Identifier: GPL-3.0-or-later
"""Shaded shapes as SVG text: what the drawings of the demo property are put together from.

Each shape takes a material, which is three colours (lit, plain, in shade). Knows no item and no place.
"""

import random

MATERIALS = {
    # name: (lit, plain, shade)
    "oak": ("#d9a866", "#a87236", "#5d3a17"),
    "pine": ("#ecd2a0", "#c99f63", "#7f5c30"),
    "grey wood": ("#c9c0b2", "#948a7b", "#544d43"),
    "dark wood": ("#8d5a34", "#5d3519", "#2c170a"),
    "iron": ("#8d9297", "#4a4f55", "#1d2024"),
    "cast": ("#6b6f74", "#35393e", "#121417"),
    "steel": ("#e9edf0", "#9aa3ab", "#4c545b"),
    "zinc": ("#dfe5e6", "#a5afb1", "#626c6f"),
    "copper": ("#ffc79a", "#c56a33", "#5e2a10"),
    "brass": ("#ffe9a3", "#c89a34", "#664a10"),
    "rust": ("#c77d49", "#8a4722", "#3f1c0b"),
    "green paint": ("#7fae7c", "#3f7046", "#1b3a21"),
    "red paint": ("#dd7a64", "#a93427", "#571510"),
    "blue paint": ("#86add0", "#3c6d9c", "#183450"),
    "cream paint": ("#fbf4dd", "#dccfa6", "#8f8361"),
    "orange paint": ("#f7ad63", "#d4701c", "#753a08"),
    "grey paint": ("#b9c0c2", "#7d8689", "#42494c"),
    "stone": ("#cfc8b9", "#989081", "#5a5347"),
    "stoneware": ("#efdfbd", "#c9a874", "#71552c"),
    "brown glaze": ("#b47a4a", "#74421c", "#33190a"),
    "clay": ("#eba27a", "#c26a40", "#6e3418"),
    "canvas": ("#eee5cd", "#c7b994", "#7d7152"),
    "wicker": ("#e2bd7f", "#b38445", "#62441c"),
    "leather": ("#ab6a3e", "#6e3b1b", "#2f160a"),
    "rubber": ("#5d5d60", "#2a2a2d", "#0c0c0e"),
    "paper": ("#fffaf0", "#efe6d2", "#b4a98f"),
    "ivory": ("#fffdf5", "#f0ead8", "#b3ab95"),
    "apple": ("#ff9d7a", "#c9302c", "#5f0f12"),
    "leaf": ("#9cc764", "#5a8a32", "#264414"),
    "white": ("#ffffff", "#eef1f2", "#a9b1b5"),
    "black": ("#4b4b4f", "#1d1d20", "#050506"),
}
EDGE = "#140d06"


class Drawing:
    """Collects SVG elements and the gradients they use. Shapes are drawn in calling order."""

    def __init__(self, seed):
        self.parts = []
        self.gradients = {}
        self.random = random.Random(seed)

    # -- paints

    def paint(self, material, kind):
        """The gradient of a material: 'v' lit from above, 'h' a round upright, 'l' a round lying one, 'r' a ball."""
        lit, plain, shade = MATERIALS[material]
        key = (material.replace(" ", "-") + "-" + kind)
        if key in self.gradients:
            return f"url(#{key})"
        if kind == "r":
            text = (f'<radialGradient id="{key}" cx=".36" cy=".3" r=".8"><stop offset="0" stop-color="{lit}"/>'
                    f'<stop offset=".45" stop-color="{plain}"/><stop offset="1" stop-color="{shade}"/></radialGradient>')
        else:
            ends = 'x2="0" y2="1"' if kind in "vld" else 'x2="1" y2="0"'
            stops = {
                "v": ((0, lit), (.18, plain), (1, shade)),
                "d": ((0, plain), (1, shade)),
                "h": ((0, shade), (.12, plain), (.32, lit), (.6, plain), (1, shade)),
                "l": ((0, plain), (.22, lit), (.55, plain), (1, shade)),
            }[kind]
            if kind == "v":
                stops = ((0, mix(lit, plain, .35)), (.5, plain), (1, mix(plain, shade, .55)))
            body = "".join(f'<stop offset="{o}" stop-color="{c}"/>' for o, c in stops)
            text = f'<linearGradient id="{key}" x1="0" y1="0" {ends}>{body}</linearGradient>'
        self.gradients[key] = text
        return f"url(#{key})"

    def add(self, text):
        self.parts.append(text)

    # -- flat shapes

    def path(self, d, material, kind="v", edge=2, opacity=1):
        self.add(f'<path d="{d}" fill="{self.paint(material, kind)}" stroke="{EDGE}" stroke-opacity=".55" '
                 f'stroke-width="{edge}" stroke-linejoin="round" opacity="{opacity}"/>')

    def poly(self, points, material, kind="v", edge=2, opacity=1):
        self.path("M" + " L".join(f"{x:.1f} {y:.1f}" for x, y in points) + " Z", material, kind, edge, opacity)

    def rect(self, x, y, w, h, material, kind="v", radius=0, edge=2, opacity=1):
        self.add(f'<rect x="{x:.1f}" y="{y:.1f}" width="{w:.1f}" height="{h:.1f}" rx="{radius}" '
                 f'fill="{self.paint(material, kind)}" stroke="{EDGE}" stroke-opacity=".55" stroke-width="{edge}" '
                 f'opacity="{opacity}"/>')

    def ellipse(self, cx, cy, rx, ry, material, kind="r", edge=2, opacity=1):
        self.add(f'<ellipse cx="{cx:.1f}" cy="{cy:.1f}" rx="{rx:.1f}" ry="{ry:.1f}" fill="{self.paint(material, kind)}" '
                 f'stroke="{EDGE}" stroke-opacity=".55" stroke-width="{edge}" opacity="{opacity}"/>')

    def disc(self, cx, cy, r, material, kind="r", edge=2):
        self.ellipse(cx, cy, r, r, material, kind, edge)

    def dark(self, cx, cy, rx, ry, opacity=.8):
        """A hole: the inside of a pipe, a pot, a barrel."""
        self.add(f'<ellipse cx="{cx}" cy="{cy}" rx="{rx}" ry="{ry}" fill="#0d0906" fill-opacity="{opacity}"/>')

    def stroke(self, d, colour, width, opacity=1):
        self.add(f'<path d="{d}" fill="none" stroke="{colour}" stroke-width="{width}" stroke-opacity="{opacity}" '
                 'stroke-linecap="round" stroke-linejoin="round"/>')

    def text(self, x, y, words, size, colour="#1a1208", opacity=.85, weight="bold", family="DejaVu Sans", turn=0):
        around = f' transform="rotate({turn} {x} {y})"' if turn else ""
        self.add(f'<text x="{x}" y="{y}" font-family="{family}" font-size="{size}" font-weight="{weight}" '
                 f'text-anchor="middle" fill="{colour}" fill-opacity="{opacity}"{around}>{words}</text>')

    # -- solid shapes

    def bar(self, x1, y1, x2, y2, width, material):
        """A round bar or a plank edge seen from the side: shade, body and a line of light."""
        lit, plain, shade = MATERIALS[material]
        d = f"M{x1:.1f} {y1:.1f} L{x2:.1f} {y2:.1f}"
        self.stroke(d, mix(shade, "#000000", .4), width + 3)
        self.stroke(d, mix(plain, shade, .25), width)
        self.add(f'<path d="{d}" transform="translate({-width * .16:.1f} {-width * .16:.1f})" fill="none" '
                 f'stroke="{lit}" stroke-width="{width * .32:.1f}" stroke-opacity=".75" stroke-linecap="round"/>')

    def tube(self, d, width, material):
        """As bar, along any path."""
        lit, plain, shade = MATERIALS[material]
        self.stroke(d, mix(shade, "#000000", .4), width + 3)
        self.stroke(d, mix(plain, shade, .25), width)
        self.add(f'<path d="{d}" transform="translate({-width * .15:.1f} {-width * .18:.1f})" fill="none" '
                 f'stroke="{lit}" stroke-width="{width * .3:.1f}" stroke-opacity=".75" stroke-linecap="round" '
                 'stroke-linejoin="round"/>')

    def box(self, x, y, w, h, material, deep=60, radius=0):
        """A block: front, top and right side."""
        dx, dy = deep * .8, deep * .45
        if deep:
            lit, plain, shade = MATERIALS[material]
            top = mix(lit, "#ffffff", .12)
            side = mix(plain, shade, .75)
            self.add(f'<path d="M{x} {y} l{dx} {-dy} h{w} l{-dx} {dy} Z" fill="{top}" stroke="{EDGE}" '
                     'stroke-opacity=".55" stroke-width="2" stroke-linejoin="round"/>')
            self.add(f'<path d="M{x + w} {y} l{dx} {-dy} v{h} l{-dx} {dy} Z" fill="{side}" stroke="{EDGE}" '
                     'stroke-opacity=".55" stroke-width="2" stroke-linejoin="round"/>')
        self.rect(x, y, w, h, material, "v", radius)

    def cylinder(self, cx, y, w, h, material, lid=True, squash=.22, hole=False):
        """An upright cylinder with its top at y."""
        rx, ry = w / 2, w / 2 * squash
        self.path(f"M{cx - rx} {y} v{h} a{rx} {ry} 0 0 0 {w} 0 v{-h} Z", material, "h")
        if lid:
            self.ellipse(cx, y, rx, ry, material, "v")
        if hole:
            self.dark(cx, y, rx * .86, ry * .8)

    def drum(self, x, cy, w, r, material, squash=.3):
        """A lying cylinder, its near end to the right."""
        rx = r * squash
        self.path(f"M{x} {cy - r} h{w} a{rx} {r} 0 0 1 0 {2 * r} h{-w} a{rx} {r} 0 0 1 0 {-2 * r} Z", material, "l")
        self.ellipse(x + w, cy, rx, r, material, "v")

    def cask(self, cx, y, w, h, material="oak", hoops="iron", staves=9):
        """A standing barrel."""
        b = w * .13
        left, right = cx - w / 2 + b, cx + w / 2 - b
        ry = w * .1
        self.path(f"M{left} {y} C{left - b * 1.4} {y + h * .3} {left - b * 1.4} {y + h * .7} {left} {y + h} "
                  f"A{(right - left) / 2} {ry} 0 0 0 {right} {y + h} "
                  f"C{right + b * 1.4} {y + h * .7} {right + b * 1.4} {y + h * .3} {right} {y} Z", material, "h")
        for i in range(1, staves):
            t = i / staves
            x = left + (right - left) * t
            bulge = (t - .5) * b * 2.1
            sag = ry * (1 - (2 * t - 1) ** 2) ** .5
            self.stroke(f"M{x:.1f} {y:.1f} C{x + bulge:.1f} {y + h * .3:.1f} {x + bulge:.1f} {y + h * .7:.1f} "
                        f"{x:.1f} {y + h + sag:.1f}", "#2a1606", 2.2, .5)
        for f, swell in ((.06, .25), (.24, .78), (.73, .8), (.9, .3)):
            hy, hw = y + h * f, (right - left) / 2 + b * 1.05 * swell
            self.path(f"M{cx - hw:.1f} {hy:.1f} A{hw:.1f} {ry} 0 0 0 {cx + hw:.1f} {hy:.1f} v{h * .05:.1f} "
                      f"A{hw:.1f} {ry} 0 0 1 {cx - hw:.1f} {hy + h * .05:.1f} Z", hoops, "h", 1.5)
        self.ellipse(cx, y, (right - left) / 2, ry, material, "v")
        self.ellipse(cx, y + 3, (right - left) / 2 * .88, ry * .82, material, "d", 1)

    def wheel(self, cx, cy, r, material="cast", spokes=6, rim=.14, hub=.16, squash=1.0, curved=False, turn=0):
        """A spoked wheel seen from the front, or at an angle with squash below 1."""
        import math
        lit, plain, shade = MATERIALS[material]
        for k in range(spokes):
            a = 2 * math.pi * k / spokes + turn
            x, y = cx + math.cos(a) * r * (1 - rim / 2) * squash, cy + math.sin(a) * r * (1 - rim / 2)
            if curved:
                b = a + .55
                mx, my = cx + math.cos(b) * r * .5 * squash, cy + math.sin(b) * r * .5
                self.tube(f"M{cx:.1f} {cy:.1f} Q{mx:.1f} {my:.1f} {x:.1f} {y:.1f}", r * .08, material)
            else:
                self.bar(cx, cy, x, y, r * .075, material)
        w = r * rim
        for width, colour, off in ((w + 4, mix(shade, "#000000", .4), 0), (w, mix(plain, shade, .2), 0),
                                   (w * .3, lit, -w * .18)):
            self.add(f'<ellipse cx="{cx + off}" cy="{cy + off}" rx="{(r - w / 2) * squash:.1f}" ry="{r - w / 2:.1f}" '
                     f'fill="none" stroke="{colour}" stroke-width="{width:.1f}" '
                     f'stroke-opacity="{.6 if off else 1}"/>')
        self.ellipse(cx, cy, r * hub * max(squash, .5), r * hub, material)
        self.dark(cx, cy, r * hub * .4 * squash, r * hub * .4)

    def gear(self, cx, cy, r, teeth, material="cast"):
        import math
        pts = []
        for k in range(teeth * 4):
            a = 2 * math.pi * k / (teeth * 4)
            rr = r if k % 4 in (0, 1) else r * .86
            pts.append((cx + math.cos(a) * rr, cy + math.sin(a) * rr))
        self.poly(pts, material, "r")
        self.disc(cx, cy, r * .68, material, "d")
        self.disc(cx, cy, r * .22, material)
        self.dark(cx, cy, r * .09, r * .09)

    # -- surfaces

    def planks(self, x, y, w, h, count, material="oak", upright=False, gap=3, nails=True):
        """Boards side by side, each of its own shade, with grain and nail heads."""
        lit, plain, shade = MATERIALS[material]
        size = (w if upright else h) / count
        for i in range(count):
            px, py = (x + i * size, y) if upright else (x, y + i * size)
            pw, ph = (size - gap, h) if upright else (w, size - gap)
            self.rect(px, py, pw, ph, material, "h" if upright and size < 60 else "v", 2, 1.5)
            tone = self.random.uniform(-.16, .16)
            self.add(f'<rect x="{px:.1f}" y="{py:.1f}" width="{pw:.1f}" height="{ph:.1f}" '
                     f'fill="{"#ffffff" if tone > 0 else "#000000"}" fill-opacity="{abs(tone):.2f}"/>')
            self.grain(px, py, pw, ph, shade, upright)
            if nails:
                for f in (.04, .96):
                    nx, ny = (px + pw / 2, py + ph * f) if upright else (px + pw * f, py + ph / 2)
                    self.add(f'<circle cx="{nx:.1f}" cy="{ny:.1f}" r="3" fill="#20160c" fill-opacity=".75"/>')

    def grain(self, x, y, w, h, colour, upright=False, lines=4):
        r = self.random
        for _ in range(lines):
            if upright:
                gx = x + r.uniform(.1, .9) * w
                bend = r.uniform(-.12, .12) * w
                a, b = sorted((r.uniform(0, 1), r.uniform(0, 1)))
                self.stroke(f"M{gx:.0f} {y + a * h:.0f} q{bend:.0f} {(b - a) * h / 2:.0f} 0 {(b - a) * h:.0f}",
                            colour, 1.5, .35)
            else:
                gy = y + r.uniform(.12, .88) * h
                bend = r.uniform(-.15, .15) * h
                a, b = sorted((r.uniform(0, 1), r.uniform(0, 1)))
                self.stroke(f"M{x + a * w:.0f} {gy:.0f} q{(b - a) * w / 2:.0f} {bend:.0f} {(b - a) * w:.0f} 0",
                            colour, 1.5, .35)

    def stains(self, x, y, w, h, count, colour="#7a3b14", opacity=.35):
        """Rust, dust or damp: soft blotches."""
        r = self.random
        key = "stain" + colour[1:]
        self.gradients[key] = (f'<radialGradient id="{key}"><stop offset="0" stop-color="{colour}" stop-opacity="1"/>'
                               f'<stop offset=".5" stop-color="{colour}" stop-opacity=".5"/>'
                               f'<stop offset="1" stop-color="{colour}" stop-opacity="0"/></radialGradient>')
        for _ in range(count):
            rx = r.uniform(.02, .09) * (w + h)
            self.add(f'<ellipse cx="{x + r.random() * w:.0f}" cy="{y + r.random() * h:.0f}" rx="{rx:.0f}" '
                     f'ry="{rx * r.uniform(.4, 1.1):.0f}" fill="url(#{key})" opacity="{opacity * r.uniform(.5, 1):.2f}"/>')

    def bolts(self, points, r=7, material="iron"):
        for x, y in points:
            self.disc(x, y, r, material, "r", 1)

    def ground(self, cx, y, rx, ry=None, opacity=.6):
        """The soft dark patch where a thing stands on the floor."""
        self.gradients["ground"] = ('<radialGradient id="ground"><stop offset="0" stop-color="#000" stop-opacity=".9"/>'
                                    '<stop offset=".6" stop-color="#000" stop-opacity=".5"/>'
                                    '<stop offset="1" stop-color="#000" stop-opacity="0"/></radialGradient>')
        self.add(f'<ellipse cx="{cx}" cy="{y}" rx="{rx}" ry="{ry or rx * .14}" fill="url(#ground)" opacity="{opacity}"/>')

    def plate(self, x, y, w, h, material="brass", words=()):
        """A small maker's plate with screws."""
        self.rect(x, y, w, h, material, "v", 5, 2)
        self.bolts([(x + 9, y + 9), (x + w - 9, y + 9), (x + 9, y + h - 9), (x + w - 9, y + h - 9)], 4, "steel")
        for i, line in enumerate(words):
            self.text(x + w / 2, y + h * (i + 1) / (len(words) + .7), line, h / (len(words) + 1.6))

    # -- results

    def svg(self, width, height, view=None, opaque=None):
        """The whole document; view is (x, y, w, h) in drawing units."""
        x, y, w, h = view or (0, 0, width, height)
        back = f'<rect x="{x}" y="{y}" width="{w}" height="{h}" fill="{opaque}"/>' if opaque else ""
        return (f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" '
                f'viewBox="{x} {y} {w} {h}"><defs>{"".join(self.gradients.values())}</defs>{back}'
                f'{"".join(self.parts)}</svg>')


def mix(a, b, share):
    """The colour that lies 'share' of the way from a to b; both #rrggbb."""
    pa, pb = (tuple(int(c[i:i + 2], 16) for i in (1, 3, 5)) for c in (a, b))
    return "#" + "".join(f"{round(x + (y - x) * share):02x}" for x, y in zip(pa, pb))
