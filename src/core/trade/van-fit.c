/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/trade/van-fit.h"

static const char *const fit_words[] = {
#define AS_WORDS(tag, words) words,
  SW_VAN_FITS (AS_WORDS)
#undef AS_WORDS
};

const char *
sw_van_fit_words (SwVanFit fit)
{
  return fit >= 0 && fit < SW_N_VAN_FITS ? fit_words[fit] : NULL;
}

static void
sort_three (gint64 sides[3])
{
  for (int i = 0; i < 2; i++)
    for (int j = 0; j < 2 - i; j++)
      if (sides[j] > sides[j + 1])
        {
          gint64 kept = sides[j];

          sides[j] = sides[j + 1];
          sides[j + 1] = kept;
        }
}

/* Its two smaller sides pass the opening, turned as it likes. */
static gboolean
passes_door (const SwItem *item, const SwVan *van)
{
  gint64 sides[3] = { item->length_mm, item->width_mm, item->height_mm };
  gint64 low = MIN (van->door_width_mm, van->door_height_mm);
  gint64 high = MAX (van->door_width_mm, van->door_height_mm);

  sort_three (sides);
  return low == 0 || (sides[0] <= low && sides[1] <= high);
}

static gboolean
fits_inside (const SwItem *item, const SwVan *van)
{
  gint64 longer = MAX (item->length_mm, item->width_mm);
  gint64 shorter = MIN (item->length_mm, item->width_mm);

  return (van->height_mm == 0 || item->height_mm <= van->height_mm)
         && (van->length_mm == 0
             || (longer <= MAX (van->length_mm, van->width_mm)
                 && shorter <= MIN (van->length_mm, van->width_mm)));
}

static gboolean
is_known (const SwItem *item, SwMass each)
{
  return each.ug > 0 || item->length_mm > 0 || item->width_mm > 0 || item->height_mm > 0;
}

SwVanFit
sw_van_fit (const SwVan *van, const SwItem *item, SwMass each)
{
  if (item->stows == SW_STOWS_TRAILER)
    return SW_VAN_FIT_TRAILER;
  if (van == NULL || !is_known (item, each))
    return SW_VAN_FIT_UNKNOWN;
  if (each.ug > van->payload.ug)
    return SW_VAN_FIT_PAYLOAD;
  if (item->stows == SW_STOWS_ROOF)
    return SW_VAN_FIT_YES;
  if (!fits_inside (item, van))
    return SW_VAN_FIT_SPACE;
  return passes_door (item, van) ? SW_VAN_FIT_YES : SW_VAN_FIT_DOOR;
}

gboolean
sw_van_fit_item (SwCatalogue *catalogue, const SwItem *item, SwVanFit *out_fit, GError **error)
{
  SwMass each = { item->has_mass ? item->mass.ug / item->count : 0 };
  gboolean found = FALSE;
  SwVan van;

  if (!sw_van_get (catalogue, &found, &van, error))
    return FALSE;
  *out_fit = sw_van_fit (found ? &van : NULL, item, each);
  return TRUE;
}
