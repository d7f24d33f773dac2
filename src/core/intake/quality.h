/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How good a photo is to look at, measured on its pixels while they are at hand. Intake layer; runs
 * in the decode helper. */
#pragma once

#include "core/catalogue/photo-quality.h"
#include "core/intake/pixels.h"

G_BEGIN_DECLS

/* Pixels on the long side of what is measured, so that measures of different photos compare. */
#define SW_QUALITY_SIDE 640
/* Raise it when the measures change: all photos are then measured again. */
#define SW_QUALITY_VERSION 1

/* Fills all of *out but 'photo' and 'marks', of an upright picture of at most SW_QUALITY_SIDE.
 * Sharpness is the variance of the Laplacian of the luma (Pech-Pacheco, Cristobal, Chamorro-
 * Martinez, Fernandez-Valdivia 2000, 'Diatom autofocusing in brightfield microscopy', ICPR 15).
 * Focus is ours: the same variance over that of the luma, in the sharpest quarter of those of 12 x
 * 9 fields that show anything, so that smooth things in good focus do not count as blurred. */
void sw_quality_measure (const SwPixels *pixels, SwPhotoQuality *out);

G_END_DECLS
