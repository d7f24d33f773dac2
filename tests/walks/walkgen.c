/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A person walks over the property: place by place, thing by thing, 1 to 12 photos each. The
 * generator shares no density with the model: lags are drawn as a uniform mixture, walking time as
 * distance over speed, pauses as uniform. */
#include "walkgen.h"

#include <math.h>

guint64
dice_next (Dice *dice)
{
  guint64 z = (dice->state += G_GUINT64_CONSTANT (0x9E3779B97F4A7C15));

  z = (z ^ (z >> 30)) * G_GUINT64_CONSTANT (0xBF58476D1CE4E5B9);
  z = (z ^ (z >> 27)) * G_GUINT64_CONSTANT (0x94D049BB133111EB);
  return z ^ (z >> 31);
}

double
dice_uniform (Dice *dice)
{
  return (double)(dice_next (dice) >> 11) * 0x1.0p-53;
}

double
dice_normal (Dice *dice)
{
  double u = 1 - dice_uniform (dice), v = dice_uniform (dice);

  return sqrt (-2 * log (u)) * cos (2 * G_PI * v);
}

int
dice_range (Dice *dice, int low, int high)
{
  return low + (int)(dice_next (dice) % (guint64)(high - low + 1));
}

static double
log_normal (Dice *dice, double median, double sd)
{
  return median * exp (sd * dice_normal (dice));
}

/* How this person works; drawn once a walk. */
typedef struct
{
  double within_s, within_sd, between_s, between_sd;
  double note_before; /* share of notes written before photographing */
  double lag_s;
  int step_s; /* clock step of the notes: 1 or 60 s */
} Person;

static Person
draw_person (Dice *dice)
{
  Person person = {
    .within_s = 4 + 8 * dice_uniform (dice),
    .within_sd = 0.45 + 0.35 * dice_uniform (dice),
    .between_s = 35 + 85 * dice_uniform (dice),
    .between_sd = 0.35 + 0.3 * dice_uniform (dice),
    .note_before = dice_uniform (dice),
    .lag_s = 6 + 20 * dice_uniform (dice),
    .step_s = dice_uniform (dice) < 0.3 ? 60 : 1,
  };

  return person;
}

typedef struct
{
  double start_s, end_s;
  int place;
} Thing;

/* Photos of one thing from *now on; returns how many. */
static int
shoot (TrueWalk *truth, Dice *dice, const Person *person, const WalkKind *kind, int thing,
       double *now)
{
  int count = dice_range (dice, 1, 12);

  if (dice_uniform (dice) < 0.5)
    count = dice_range (dice, 1, 5);
  for (int k = 0; k < count; k++)
    {
      SwWalkPhoto *photo = &truth->photos[truth->walk.n_photos];

      *photo = (SwWalkPhoto){ .id = (gint64)truth->walk.n_photos + 1,
                              .time_kind = SW_WALK_TIME_OWN,
                              .clock_us = (gint64)(*now * 1e6),
                              .resolution_us = SW_US_PER_SECOND,
                              .decided = SW_WALK_OPEN,
                              .place = -1 };
      if (kind->cameras > 1 && dice_uniform (dice) < 0.3)
        photo->camera = dice_range (dice, 1, kind->cameras - 1);
      truth->thing[truth->walk.n_photos++] = thing;
      if (k + 1 < count)
        *now += log_normal (dice, person->within_s, person->within_sd);
    }
  return count;
}

static void
jot (TrueWalk *truth, Dice *dice, const Person *person, const WalkKind *kind, const Thing *things,
     int count)
{
  for (int k = 0; k < count; k++)
    {
      const Thing *thing = &things[k];
      SwWalkNote *note = &truth->notes[truth->walk.n_notes];
      double lag = person->lag_s * (0.2 + 1.6 * dice_uniform (dice)), t;

      if (dice_uniform (dice) >= kind->noted)
        continue;
      t = dice_uniform (dice) < person->note_before ? thing->start_s - lag : thing->end_s + lag;
      if (dice_uniform (dice) < 0.1)
        t = thing->start_s + dice_uniform (dice) * (thing->end_s - thing->start_s);
      if (kind->note_faults && dice_uniform (dice) < 0.04)
        t += (dice_uniform (dice) < 0.5 ? -1 : 1) * (120 + 780 * dice_uniform (dice));
      t = floor (t / person->step_s) * person->step_s;
      truth->items[truth->walk.n_items] = (SwWalkItem){ NULL, thing->place };
      *note = (SwWalkNote){ (gint64)t * SW_US_PER_SECOND, person->step_s * SW_US_PER_SECOND,
                            thing->place, (int)truth->walk.n_items };
      for (gsize i = 0; i < truth->walk.n_photos; i++)
        if (truth->thing[i] == k)
          truth->item[i] = (int)truth->walk.n_items;
      truth->walk.n_items++;
      truth->walk.n_notes++;
    }
  for (gsize k = 0; kind->note_faults && k + 1 < truth->walk.n_notes; k++)
    if (dice_uniform (dice) < 0.003)
      {
        int item = truth->notes[k].item;

        truth->notes[k].item = truth->notes[k + 1].item;
        truth->notes[k + 1].item = item;
        truth->notes[k].place = truth->items[truth->notes[k].item].place;
        truth->notes[k + 1].place = truth->items[item].place;
      }
}

static double
draw_shift (Dice *dice, gboolean faults)
{
  if (!faults)
    return 0;
  switch (dice_range (dice, 0, 3))
    {
    case 0:
      return 0;
    case 1:
      return (double)dice_range (dice, -600, 600);
    case 2:
      return dice_uniform (dice) < 0.5 ? -3600 : 3600;
    default:
      return dice_uniform (dice) < 0.5 ? -86400 : 86400;
    }
}

static guint64
flip_bits (Dice *dice, guint64 bits, double chance)
{
  for (int k = 0; k < 64; k++)
    if (dice_uniform (dice) < chance)
      bits ^= G_GUINT64_CONSTANT (1) << k;
  return bits;
}

/* Things of one place look a little alike; a photo is a near view of its thing or a changed one. */
static void
draw_pictures (TrueWalk *truth, Dice *dice, const Thing *things)
{
  guint64 place[16], thing_bits = 0;

  for (gsize k = 0; k < G_N_ELEMENTS (place); k++)
    place[k] = dice_next (dice);
  for (gsize i = 0; i < truth->walk.n_photos; i++)
    {
      int thing = truth->thing[i];

      if (i == 0 || truth->thing[i - 1] != thing)
        thing_bits = flip_bits (dice, place[things[thing].place], 0.35);
      truth->photos[i].has_likeness = TRUE;
      truth->photos[i].dhash = flip_bits (dice, thing_bits, dice_uniform (dice) < 0.7 ? 0.08 : 0.3);
    }
}

/* Places within 200 m of each other; fixes 5 to 25 m off, now and then 100 m. */
static void
draw_positions (TrueWalk *truth, Dice *dice, const Thing *things)
{
  const double degree_m = 111195; /* of a great circle on a sphere of 6,371 km */

  for (gsize k = 0; k < truth->walk.n_places; k++)
    {
      truth->places[k].has_position = TRUE;
      truth->places[k].latitude = 52 + 200 * dice_uniform (dice) / degree_m;
      truth->places[k].longitude = 5 + 200 * dice_uniform (dice) / (degree_m * cos (0.9076));
    }
  for (gsize i = 0; i < truth->walk.n_photos; i++)
    {
      const SwWalkPlace *place = &truth->places[things[truth->thing[i]].place];
      SwWalkPhoto *photo = &truth->photos[i];
      double sd = dice_uniform (dice) < 0.03 ? 100 : 5 + 20 * dice_uniform (dice);

      photo->has_position = TRUE;
      photo->error_m = MIN (sd, 25);
      photo->latitude = place->latitude + sd * dice_normal (dice) / degree_m;
      photo->longitude = place->longitude + sd * dice_normal (dice) / (degree_m * cos (0.9076));
    }
}

TrueWalk *
true_walk_new (guint64 seed, const WalkKind *kind)
{
  Dice dice = { seed * 7919 + 17 };
  Person person = draw_person (&dice);
  TrueWalk *truth = g_new0 (TrueWalk, 1);
  int count = kind->things, n_places = 6, place = 0;
  g_autofree Thing *things = g_new0 (Thing, (gsize)count);
  double now = 1781946000; /* 2026-06-20 09:00 */

  truth->photos = g_new0 (SwWalkPhoto, (gsize)count * 12);
  truth->thing = g_new0 (int, (gsize)count * 12);
  truth->item = g_new0 (int, (gsize)count * 12);
  truth->notes = g_new0 (SwWalkNote, (gsize)count);
  truth->items = g_new0 (SwWalkItem, (gsize)count);
  truth->places = g_new0 (SwWalkPlace, (gsize)n_places);
  truth->cameras = g_new0 (SwWalkCamera, (gsize)kind->cameras);
  truth->shift_s = g_new0 (double, (gsize)kind->cameras);
  for (int k = 0; k < n_places; k++)
    truth->places[k] = (SwWalkPlace){ .parent = -1 };
  for (int k = 0; k < count; k++)
    {
      now += log_normal (&dice, person.between_s, person.between_sd);
      if (k > 0 && dice_uniform (&dice) < 0.12)
        {
          place = dice_range (&dice, 0, n_places - 1);
          now += (20 + 180 * dice_uniform (&dice)) / 1.3; /* metres over metres per second */
        }
      if (dice_uniform (&dice) < 0.02)
        now += 300 + 2400 * dice_uniform (&dice);
      things[k].place = place;
      things[k].start_s = now;
      shoot (truth, &dice, &person, kind, k, &now);
      things[k].end_s = now;
    }
  for (gsize i = 0; i < truth->walk.n_photos; i++)
    truth->item[i] = -1;
  jot (truth, &dice, &person, kind, things, count);
  for (int c = 0; c < kind->cameras; c++)
    truth->shift_s[c] = draw_shift (&dice, kind->clock_faults);
  for (gsize i = 0; i < truth->walk.n_photos; i++)
    {
      SwWalkPhoto *photo = &truth->photos[i];

      photo->clock_us -= (gint64)(truth->shift_s[photo->camera] * 1e6);
      photo->clock_us = photo->clock_us / SW_US_PER_SECOND * SW_US_PER_SECOND;
    }
  /* Their own dice: the same walk with and without them. */
  Dice more = { seed * 104729 + 71 };
  truth->walk.n_places = (gsize)n_places;
  if (kind->pictures)
    draw_pictures (truth, &more, things);
  if (kind->positions)
    draw_positions (truth, &more, things);
  truth->walk.photos = truth->photos;
  truth->walk.notes = truth->notes;
  truth->walk.items = truth->items;
  truth->walk.places = truth->places;
  truth->walk.cameras = truth->cameras;
  truth->walk.n_cameras = (gsize)kind->cameras;
  return truth;
}

void
true_walk_free (TrueWalk *walk)
{
  if (walk == NULL)
    return;
  g_free (walk->photos);
  g_free (walk->notes);
  g_free (walk->items);
  g_free (walk->places);
  g_free (walk->cameras);
  g_free (walk->thing);
  g_free (walk->item);
  g_free (walk->shift_s);
  g_free (walk);
}
