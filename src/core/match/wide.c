/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Second things in a photo, from tags and from what a person said of a picture that is the same.
 * Must not move a photo, nor say again what a person said. */
#include "core/match/wide.h"

#include <string.h>

static int
compare_also (gconstpointer a, gconstpointer b)
{
  const SwAlso *x = a, *y = b;

  if (x->photo != y->photo)
    return x->photo < y->photo ? -1 : 1;
  if (x->item != y->item)
    return x->item < y->item ? -1 : 1;
  if (x->tag != y->tag)
    return x->tag < y->tag ? -1 : 1;
  return (x->like > y->like) - (x->like < y->like);
}

/* The sights of one photo. */
static const SwWalkSight *
sights_of (const SwWalk *walk, guint photo, gsize *out_n)
{
  gsize low = 0, high = walk->n_sights, end;

  while (low < high)
    {
      gsize mid = (low + high) / 2;

      if (walk->sights[mid].photo < photo)
        low = mid + 1;
      else
        high = mid;
    }
  for (end = low; end < walk->n_sights && walk->sights[end].photo == photo;)
    end++;
  *out_n = end - low;
  return walk->sights + low;
}

static gboolean
is_said (const SwWalk *walk, guint photo, int item)
{
  gsize n;
  const SwWalkSight *sights = sights_of (walk, photo, &n);

  for (gsize k = 0; k < n; k++)
    if (sights[k].tag == 0 && sights[k].item == item)
      return TRUE;
  return FALSE;
}

/* Whether that is the stop's own thing. */
static gboolean
is_own (const SwStop *stop, const SwAlso *also)
{
  return also->item >= 0 ? stop->label == also->item : stop->tag == also->tag;
}

/* A tag that hangs on nothing yet: on what its own stop shows. FALSE where it has none. */
static gboolean
settle_tag (const SwProposal *proposal, SwAlso *also)
{
  for (gsize k = 0; k < proposal->n_stops && also->item < 0; k++)
    if (proposal->stops[k].tag == also->tag)
      {
        also->item = proposal->stops[k].label >= 0 ? proposal->stops[k].label : -1;
        return proposal->stops[k].label != SW_LABEL_NONE;
      }
  return also->item >= 0;
}

static void
add (GArray *found, const SwWalk *walk, const SwProposal *proposal, SwAlso also)
{
  const SwStop *stop = &proposal->stops[proposal->views[also.photo].stop];

  /* A photo of a card, or of no item by a person's word, is no view of things. */
  if (stop->label == SW_LABEL_NONE || walk->photos[also.photo].decided == SW_WALK_NONE
      || !settle_tag (proposal, &also) || is_own (stop, &also)
      || (also.item >= 0 && is_said (walk, also.photo, also.item)))
    return;
  g_array_append_val (found, also);
}

/* Photos of the stop that are the same picture as this one, of which a person said it. */
static void
add_same (GArray *found, const SwWalk *walk, const SwProposal *proposal, const SwWalkSight *sight)
{
  const SwWalkPhoto *said = &walk->photos[sight->photo];
  const SwStop *stop = &proposal->stops[proposal->views[sight->photo].stop];

  for (gsize k = 0; k < stop->n_photos && said->has_likeness; k++)
    {
      const SwWalkPhoto *photo = &walk->photos[stop->photos[k]];

      if (stop->photos[k] != sight->photo && photo->has_likeness
          && __builtin_popcountll (photo->dhash ^ said->dhash) <= SW_SAME_PICTURE_BITS)
        add (found, walk, proposal,
             (SwAlso){ .photo = stop->photos[k], .item = sight->item, .like = sight->photo });
    }
}

void
sw_wide_propose (const SwWalk *walk, SwProposal *proposal)
{
  g_autoptr (GArray) found = g_array_new (FALSE, FALSE, sizeof (SwAlso));
  gsize kept = 0;

  for (gsize k = 0; k < walk->n_sights; k++)
    if (walk->sights[k].tag == 0)
      add_same (found, walk, proposal, &walk->sights[k]);
    else
      add (found, walk, proposal,
           (SwAlso){ walk->sights[k].photo, walk->sights[k].item, walk->sights[k].tag, 0 });
  g_array_sort (found, compare_also);
  for (gsize k = 0; k < found->len; k++)
    {
      SwAlso also = g_array_index (found, SwAlso, k);
      const SwAlso *last = kept > 0 ? &g_array_index (found, SwAlso, kept - 1) : NULL;

      /* A thing may bear two tags, and be said of two same pictures. */
      if (last != NULL && last->photo == also.photo && last->item == also.item
          && (also.item >= 0 || last->tag == also.tag))
        continue;
      g_array_index (found, SwAlso, kept++) = also;
    }
  proposal->n_also = kept;
  proposal->also = g_new0 (SwAlso, kept + 1);
  if (kept > 0)
    memcpy (proposal->also, found->data, kept * sizeof (SwAlso));
}
