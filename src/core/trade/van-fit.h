/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether a thing goes into the van: by its measures against floor, height and door, its mass
 * against the payload, and where it rides. Trade layer. */
#pragma once

#include "core/base/language.h"
#include "core/catalogue/items.h"
#include "core/catalogue/van.h"

G_BEGIN_DECLS

/* X (tag, words). The later weighs more: a lot fits as its worst item does. */
#define SW_VAN_FITS(X)                                                                             \
  X (YES, NULL)                                                                                    \
  X (UNKNOWN, N_ ("not known"))                                                                    \
  X (DOOR, N_ ("does not go through the van's door"))                                              \
  X (SPACE, N_ ("is larger than the van inside"))                                                  \
  X (PAYLOAD, N_ ("one piece is heavier than the van may carry"))                                  \
  X (TRAILER, N_ ("rides on a trailer"))
#define SW_VAN_FIT_AS_ENUM(tag, words) SW_VAN_FIT_##tag,
typedef enum
{
  SW_VAN_FITS (SW_VAN_FIT_AS_ENUM) SW_N_VAN_FITS
} SwVanFit;
/* Static; NULL for YES. */
const char *sw_van_fit_words (SwVanFit fit);

/* van NULL: none was entered. each: the mass of one piece; 0: not known. What is not measured of
 * van or thing stands in no way, but where nothing at all is known of the thing (no measures and no
 * mass) the answer is UNKNOWN. What rides on the roof passes no door. */
SwVanFit sw_van_fit (const SwVan *van, const SwItem *item, SwMass each);

/* Into the van that was entered, by the mass that is known of the item. An error only of the
 * database. */
gboolean sw_van_fit_item (SwCatalogue *catalogue, const SwItem *item, SwVanFit *out_fit,
                          GError **error);

G_END_DECLS
