/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looks some stops to each side, no further: what was walked past long ago is searched for by name.
 */
#include "app/likely.h"

#define REACH 12

gint64
sw_stop_item (const SwStopRecord *stop)
{
  for (guint i = 0; stop != NULL && i < stop->decided->len; i++)
    if (g_array_index (stop->decided, gint64, i) > 0)
      return g_array_index (stop->decided, gint64, i);
  return 0;
}

/* The n-th stop around, the one before first; NULL past the ends. */
static const SwStopRecord *
around (const SwStrip *strip, const SwStopRecord *stop, int n)
{
  int away = n / 2 + 1, k = stop->position - 1 + (n % 2 == 0 ? -away : away);

  return k >= 0 && k < (int)strip->stops->len ? g_ptr_array_index (strip->stops, (guint)k) : NULL;
}

static SwLikelyOther
shown_by (const SwStopRecord *stop)
{
  gint64 decided = sw_stop_item (stop);

  if (decided != 0)
    return (SwLikelyOther){ decided, stop->decided_name };
  return (SwLikelyOther){ stop->item, stop->name };
}

GArray *
sw_likely_items (const SwStrip *strip, const SwStopRecord *stop)
{
  GArray *items = g_array_new (FALSE, FALSE, sizeof (gint64));

  if (stop == NULL)
    return items;
  for (int n = -1; n < 2 * REACH; n++)
    {
      const SwStopRecord *each = n < 0 ? stop : around (strip, stop, n);
      gint64 item = each != NULL ? shown_by (each).item : 0;

      if (item != 0)
        g_array_append_val (items, item);
    }
  return items;
}

static gboolean
is_new (const SwStopRecord *stop, const SwLikelyOther *out, int n, SwLikelyOther other)
{
  if (other.item == 0 || other.name == NULL || other.item == stop->item)
    return FALSE;
  for (int k = 0; k < n; k++)
    if (out[k].item == other.item)
      return FALSE;
  return TRUE;
}

void
sw_likely_others (const SwStrip *strip, const SwStopRecord *stop, const SwPairingOther *other,
                  SwLikelyOther out[SW_LIKELY_OTHERS])
{
  int n = 0;

  for (int k = 0; k < SW_LIKELY_OTHERS; k++)
    out[k] = (SwLikelyOther){ 0, NULL };
  if (stop == NULL || stop->n_open == 0)
    return;
  if (other != NULL && is_new (stop, out, n, (SwLikelyOther){ other->item, other->name }))
    out[n++] = (SwLikelyOther){ other->item, other->name };
  for (int k = 0; n < SW_LIKELY_OTHERS && k < 2 * REACH; k++)
    {
      const SwStopRecord *each = around (strip, stop, k);
      SwLikelyOther next = each != NULL ? shown_by (each) : (SwLikelyOther){ 0, NULL };

      if (is_new (stop, out, n, next))
        out[n++] = next;
    }
}
