/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was jotted down on the way: of each thing or of none, at once or late, now and then wrong.
 * The same thing's note is the same whatever share of things is noted. */
#include "walk-scene.h"

#include <math.h>

/* First visit of each thing. */
static const Visit *
visit_of (const Scene *scene, int thing)
{
  for (guint k = 0; k < scene->visits->len; k++)
    if (g_array_index (scene->visits, Visit, k).thing == thing)
      return &g_array_index (scene->visits, Visit, k);
  g_return_val_if_reached (NULL);
}

/* The pause before (side -1) or after a visit, in which a note is mostly written. */
static double
room_s (const Scene *scene, const Visit *visit, int side)
{
  gsize at = (gsize)(visit - &g_array_index (scene->visits, Visit, 0));
  double room = 600;

  /* The card of the place takes no room. */
  gsize before = at > 1 && g_array_index (scene->visits, Visit, at - 1).card ? 2 : 1;

  if (side < 0 && at >= before)
    room = visit->start_s - g_array_index (scene->visits, Visit, at - before).end_s;
  if (side > 0 && at + 1 < scene->visits->len)
    room = g_array_index (scene->visits, Visit, at + 1).start_s - visit->end_s;
  return room;
}

static double
written_s (const Scene *scene, Dice *dice, const Visit *visit)
{
  const Person *person = &scene->person;
  int side = dice_chance (dice, person->note_before) ? -1 : 1;
  double lag = person->lag_s * dice_between (dice, 0.2, 1.8), room = room_s (scene, visit, side);
  double late = dice_pareto (dice, 1.5, 1.2, 8), t;
  gboolean is_late = dice_chance (dice, 0.06), in_time = dice_chance (dice, 0.85);

  if (is_late)
    lag *= late;
  if (in_time && lag > room)
    lag = room * dice_between (dice, 0.3, 0.95);
  t = side < 0 ? visit->start_s - lag : visit->end_s + lag;
  if (dice_chance (dice, 0.1))
    t = dice_between (dice, visit->start_s, visit->end_s);
  return t;
}

static void
swap_items (TrueWalk *truth, gsize k)
{
  SwWalkNote *a = &truth->notes[k], *b = &truth->notes[k + 1];
  int item = a->item;

  a->item = b->item;
  b->item = item;
  a->place = truth->items[a->item].place;
  b->place = truth->items[b->item].place;
  truth->note_wrong[k] = truth->note_wrong[k + 1] = TRUE;
}

static void
note_here (Scene *scene)
{
  Dice dice = dice_new (scene->seed, SIDE_HERE);
  TrueWalk *truth = scene->truth;

  for (guint k = 0; k < scene->visits->len; k++)
    {
      const Visit *visit = &g_array_index (scene->visits, Visit, k);
      int wrong = dice_range (&dice, 0, scene->n_places - 1);
      double t = visit->arrive_s + dice_between (&dice, -15, 45);
      gboolean written = dice_chance (&dice, 0.85), mistaken = dice_chance (&dice, 0.03);
      int step_s = scene->person.step_s;

      if (visit->arrive_s == 0 || !written || visit->card)
        continue;
      t = floor (t / step_s) * step_s;
      truth->notes[truth->walk.n_notes++]
          = (SwWalkNote){ (gint64)t * SW_US_PER_SECOND, step_s * SW_US_PER_SECOND,
                          mistaken ? wrong : visit->place, -1 };
    }
}

void
scene_note (Scene *scene)
{
  Dice dice = dice_new (scene->seed, SIDE_NOTES), swaps = dice_new (scene->seed, SIDE_SWAPS);
  TrueWalk *truth = scene->truth;
  int step_s = scene->person.step_s;

  for (int thing = 0; thing < scene->n_things; thing++)
    {
      const Visit *visit = visit_of (scene, thing);
      double t = written_s (scene, &dice, visit);
      gboolean noted = dice_chance (&dice, scene->kind->noted);
      gboolean off = dice_chance (&dice, 0.04) && scene->kind->note_faults;
      double by = dice_between (&dice, 120, 900), way = dice_chance (&dice, 0.5) ? 1 : -1;

      truth->thing_place[thing] = visit->place;
      truth->thing_item[thing] = -1;
      if (!noted || visit->overview || visit->card)
        continue;
      t = floor ((off ? t + way * by : t) / step_s) * step_s;
      truth->thing_item[thing] = (int)truth->walk.n_items;
      truth->note_wrong[truth->walk.n_notes] = off;
      truth->items[truth->walk.n_items] = (SwWalkItem){ NULL, visit->place };
      truth->notes[truth->walk.n_notes++]
          = (SwWalkNote){ (gint64)t * SW_US_PER_SECOND, step_s * SW_US_PER_SECOND, visit->place,
                          (int)truth->walk.n_items++ };
    }
  for (gsize k = 0; scene->kind->note_faults && k + 1 < truth->walk.n_notes; k++)
    if (dice_chance (&swaps, 0.003))
      swap_items (truth, k);
  if (scene->kind->here_notes)
    note_here (scene);
}
