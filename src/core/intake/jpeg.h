/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JPEG bytes of pixels: thumbnails, and pictures that leave the house. What is made holds the
 * pixels alone: no metadata of any kind. Intake layer. */
#pragma once

#include "core/intake/pixels.h"

G_BEGIN_DECLS

/* quality 1 to 100 (libjpeg's scale). Transfer full; NULL only if there is no memory. */
GBytes *sw_jpeg_encode (const SwPixels *pixels, int quality);

G_END_DECLS
