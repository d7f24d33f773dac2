/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cards at the doors and tags on things, as photographs of them read. */
#include "walk-scene.h"

/* Not every code can be read. */
#define UNREADABLE 0.03
/* Nothing is carried over longer pauses: the walk's own rule for its photos. */
#define CARRY_US (G_GINT64_CONSTANT (3) * 3600 * SW_US_PER_SECOND)

static int
compare_shots (gconstpointer a, gconstpointer b)
{
  const Shot *x = a, *y = b;

  return (x->t_s > y->t_s) - (x->t_s < y->t_s);
}

/* A photo of the card between the arrival and the first thing, at nine arrivals of ten. */
void
scene_add_cards (Scene *scene)
{
  Dice dice = dice_new (scene->seed, SIDE_CARDS);
  GArray *visits = g_array_new (FALSE, TRUE, sizeof (Visit));
  g_autofree int *moved = g_new0 (int, scene->visits->len);

  for (guint k = 0; k < scene->visits->len; k++)
    {
      Visit visit = g_array_index (scene->visits, Visit, k);
      gboolean seen = dice_chance (&dice, 0.9);
      double part = dice_between (&dice, 0.1, 0.8);

      if (visit.arrive_s > 0 && seen)
        {
          Visit card = { .thing = scene->n_things++, .place = visit.place, .card = TRUE };
          Shot shot = { .visit = (int)visits->len, .also = -1, .zoom = 1 };

          card.spot = scene->grounds[visit.place].middle;
          card.arrive_s = visit.arrive_s;
          card.start_s = card.end_s = shot.t_s
              = visit.arrive_s + part * (visit.start_s - visit.arrive_s);
          g_array_append_val (visits, card);
          g_array_append_val (scene->shots, shot);
          /* New shots stand behind all others: their visits are counted anew already. */
        }
      moved[k] = (int)visits->len;
      g_array_append_val (visits, visit);
    }
  for (guint i = 0, cards = visits->len - scene->visits->len; i < scene->shots->len - cards; i++)
    {
      Shot *shot = &g_array_index (scene->shots, Shot, i);

      shot->visit = moved[shot->visit];
    }
  g_array_sort (scene->shots, compare_shots);
  g_array_unref (scene->visits);
  scene->visits = visits;
}

/* What a card says holds for that camera's photos up to the next one. */
void
scene_mark_cards (Scene *scene)
{
  Dice dice = dice_new (scene->seed, SIDE_READING);
  TrueWalk *truth = scene->truth;
  int last = -1;
  guint card = 0;
  gint64 before_us = 0;

  for (guint i = 0; i < scene->shots->len; i++)
    {
      const Shot *shot = &g_array_index (scene->shots, Shot, i);
      const Visit *visit = &g_array_index (scene->visits, Visit, (guint)shot->visit);
      SwWalkPhoto *photo = &truth->photos[i];

      if (shot->camera != 0)
        continue;
      if (visit->card && !dice_chance (&dice, UNREADABLE))
        {
          photo->is_card = TRUE;
          truth->item[i] = SW_WALK_NONE;
          last = visit->place;
          card = i + 1;
        }
      else if (truth->true_us[i] - before_us > CARRY_US)
        last = -1;
      before_us = truth->true_us[i];
      if (last < 0)
        continue;
      photo->place = last;
      photo->card = card;
    }
}

/* The first photo of a tagged thing shows its tag, nearly always. */
void
scene_tags (Scene *scene)
{
  Dice dice = dice_new (scene->seed, SIDE_TAGS);

  for (guint i = 0; i < scene->shots->len; i++)
    {
      const Shot *shot = &g_array_index (scene->shots, Shot, i);
      const Visit *visit = &g_array_index (scene->visits, Visit, (guint)shot->visit);
      gboolean first = i == 0 || g_array_index (scene->shots, Shot, i - 1).visit != shot->visit;
      gboolean more = i + 1 < scene->shots->len
                      && g_array_index (scene->shots, Shot, i + 1).visit == shot->visit;
      gboolean tagged, late, read;

      if (!first || visit->card || visit->overview || visit->again)
        continue;
      tagged = dice_chance (&dice, 0.5);
      late = dice_chance (&dice, 0.05) && more;
      read = !dice_chance (&dice, UNREADABLE);
      if (tagged && read)
        scene->truth->photos[late ? i + 1 : i].tag = visit->thing + 1;
    }
}
