/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the photos look like and where they say they were taken. A picture is a field of waves, its
 * thing's over those of its place, seen from nearer or farther and from another side, in another
 * light; its difference hash is then taken as from any picture. Drawn pictures prove little. */
#include "walk-scene.h"

#include <math.h>

enum
{
  HASH_ROWS = 8,
  HASH_COLUMNS = 9,
  N_WAVES = 7,
};

typedef struct
{
  double across, down, phase, turn, height;
} Wave;

typedef struct
{
  Wave waves[N_WAVES];
} Field;

static Field
draw_field (Dice *dice)
{
  Field field;

  for (int k = 0; k < N_WAVES; k++)
    {
      double reach = dice_between (dice, 0.3, 2.6), way = 2 * G_PI * dice_uniform (dice);

      double phase = 2 * G_PI * dice_uniform (dice), height = dice_normal (dice);

      field.waves[k]
          = (Wave){ reach * cos (way), reach * sin (way), phase, height, 1 / (0.5 + reach) };
    }
  return field;
}

static double
field_at (const Field *field, double x, double y, double angle)
{
  double sum = 0;

  for (int k = 0; k < N_WAVES; k++)
    {
      const Wave *wave = &field->waves[k];

      sum += wave->height
             * cos (2 * G_PI * (wave->across * x + wave->down * y) + wave->phase
                    + wave->turn * angle);
    }
  return sum;
}

/* How one photo is taken. */
typedef struct
{
  const Field *thing, *also, *place;
  double zoom, angle, x, y; /* of the view */
  double slant_x, slant_y;  /* of the light */
} View;

static double
light_at (const View *view, Dice *dice, double across, double down)
{
  double x = view->x + view->zoom * (across - 0.5), y = view->y + view->zoom * (down - 0.5);
  double sum = field_at (view->thing, x, y, view->angle) + 0.45 * field_at (view->place, x, y, 0);

  if (view->also != NULL && across > 0.5)
    sum = field_at (view->also, x, y, 0) + 0.45 * field_at (view->place, x, y, 0);
  return sum + view->slant_x * across + view->slant_y * down + 0.05 * dice_normal (dice);
}

static guint64
hash_of (const View *view, Dice *dice)
{
  guint64 bits = 0;

  for (int row = 0; row < HASH_ROWS; row++)
    {
      double left = 0;

      for (int column = 0; column < HASH_COLUMNS; column++)
        {
          double here = light_at (view, dice, (double)column / (HASH_COLUMNS - 1),
                                  (double)row / (HASH_ROWS - 1));

          if (column > 0)
            bits = bits << 1 | (left < here);
          left = here;
        }
    }
  return bits;
}

void
scene_pictures (Scene *scene)
{
  Dice dice = dice_new (scene->seed, SIDE_PICTURES);
  g_autofree Field *places = g_new (Field, (gsize)scene->n_places);
  g_autofree Field *things = g_new (Field, (gsize)scene->n_things);
  double sun = 2 * G_PI * dice_uniform (&dice), slant = 0, way = sun;
  int visited = -1;

  for (int k = 0; k < scene->n_places; k++)
    places[k] = draw_field (&dice);
  for (int k = 0; k < scene->n_things; k++)
    things[k] = draw_field (&dice);
  for (guint i = 0; i < scene->shots->len; i++)
    {
      const Shot *shot = &g_array_index (scene->shots, Shot, i);
      const Visit *visit = &g_array_index (scene->visits, Visit, (guint)shot->visit);
      if (shot->visit != visited)
        {
          slant = dice_between (&dice, 0, 0.8);
          way = sun + 0.3 * dice_normal (&dice);
          visited = shot->visit;
        }
      View view = {
        .thing = &things[visit->thing],
        .also = shot->also >= 0 ? &things[shot->also] : NULL,
        .place = &places[visit->place],
        .zoom = 0.5 * shot->zoom,
        .angle = shot->angle,
        .x = shot->x,
        .y = shot->y,
      };

      view.slant_x = (slant + 0.1 * dice_normal (&dice)) * cos (way);
      view.slant_y = (slant + 0.1 * dice_normal (&dice)) * sin (way);

      scene->truth->photos[i].has_likeness = TRUE;
      scene->truth->photos[i].dhash = hash_of (&view, &dice);
    }
}

/* --- positions --- */

#define DEGREE_M 111195.0 /* of a great circle on a sphere of 6,371 km */
#define LATITUDE 52.0
#define LONGITUDE 5.0

static void
set_position (SwWalkPhoto *photo, Spot spot, double error_m)
{
  photo->has_position = TRUE;
  photo->latitude = LATITUDE + spot.north_m / DEGREE_M;
  photo->longitude = LONGITUDE + spot.east_m / (DEGREE_M * cos (LATITUDE * G_PI / 180));
  photo->error_m = error_m;
}

/* The error of one phone's fixes: a bias that wanders over minutes, and a little noise. */
typedef struct
{
  double bias_m, memory_s, noise_m;
  gboolean says_error;
  Spot off;
  double last_s; /* of the last fix, or 0 */
  Spot last;
  double last_error_m;
} Receiver;

/* A person has one phone. */
static Receiver
draw_receiver (Dice *dice)
{
  Receiver receiver = { 0 };

  receiver.bias_m = dice_between (dice, 5, 15) / sqrt (2); /* of each of the two ways */
  receiver.memory_s = dice_between (dice, 90, 400);
  receiver.noise_m = dice_between (dice, 1, 3) / sqrt (2);
  receiver.says_error = dice_chance (dice, 0.8);
  return receiver;
}

static void
wander (Receiver *receiver, Dice *dice, double t_s)
{
  double keep = receiver->last_s > 0 ? exp (-(t_s - receiver->last_s) / receiver->memory_s) : 0;
  double fresh = receiver->bias_m * sqrt (MAX (0, 1 - keep * keep));

  receiver->off.east_m = keep * receiver->off.east_m + fresh * dice_normal (dice);
  receiver->off.north_m = keep * receiver->off.north_m + fresh * dice_normal (dice);
}

static void
fix (Receiver *receiver, Dice *dice, double t_s, Spot truly)
{
  double far = dice_chance (dice, 0.02) ? dice_between (dice, 40, 300) : 0;
  double way = 2 * G_PI * dice_uniform (dice);

  wander (receiver, dice, t_s);
  receiver->last.east_m = truly.east_m + receiver->off.east_m + far * cos (way);
  receiver->last.east_m += receiver->noise_m * dice_normal (dice);
  receiver->last.north_m = truly.north_m + receiver->off.north_m + far * sin (way);
  receiver->last.north_m += receiver->noise_m * dice_normal (dice);
  receiver->last_s = t_s;
  receiver->last_error_m = receiver->says_error ? (receiver->bias_m + (far > 0 ? 20 : 0))
                                                      * dice_between (dice, 0.6, 1.5)
                                                : 0;
}

void
scene_positions (Scene *scene)
{
  Dice dice = dice_new (scene->seed, SIDE_POSITIONS);
  TrueWalk *truth = scene->truth;
  Dice own = dice_new (scene->person_seed, SIDE_POSITIONS);
  Receiver receiver = draw_receiver (&own);

  draw_receiver (&dice); /* as with the person: a walk's own is the first that its dice draw */
  for (int k = 0; k < scene->n_places; k++)
    {
      SwWalkPhoto middle = { 0 };

      set_position (&middle, scene->grounds[k].middle, 0);
      truth->places[k].has_position = TRUE;
      truth->places[k].latitude = middle.latitude;
      truth->places[k].longitude = middle.longitude;
    }
  for (guint i = 0; i < scene->shots->len; i++)
    {
      const Shot *shot = &g_array_index (scene->shots, Shot, i);
      const Visit *visit = &g_array_index (scene->visits, Visit, (guint)shot->visit);
      gboolean roof = scene->grounds[visit->place].roof;
      /* The last fix serves again within a stop, and under a roof for long. */
      gboolean again = dice_chance (&dice, roof ? 0.6 : 0.35), none = dice_chance (&dice, 0.06);
      double age_s = shot->t_s - receiver.last_s;

      if (!(again && receiver.last_s > 0 && age_s < (roof ? 900 : 20)))
        fix (&receiver, &dice, shot->t_s, visit->spot);
      if (shot->camera != 0 || none)
        continue;
      set_position (&truth->photos[i], receiver.last, receiver.last_error_m);
      if (scene->kind->gps_time)
        {
          truth->gps_us[i] = (gint64)floor (receiver.last_s) * SW_US_PER_SECOND;
          truth->photos[i].has_fix = TRUE;
          truth->photos[i].fix_us = truth->gps_us[i];
        }
    }
}
