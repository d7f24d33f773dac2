/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Puts an invented walk together: the person's way, then each side that the kind asks for. */
#include "walkgen.h"

#include "walk-scene.h"

#define N_PLACES 6

static void
make_room (TrueWalk *truth, const Scene *scene)
{
  gsize n = scene->shots->len, things = (gsize)scene->n_things;

  truth->photos = g_new0 (SwWalkPhoto, n);
  truth->visit = g_new0 (int, n);
  truth->thing = g_new0 (int, n);
  truth->item = g_new0 (int, n);
  truth->also = g_new0 (int, n);
  truth->again = g_new0 (gboolean, n);
  truth->place = g_new0 (int, n);
  truth->true_us = g_new0 (gint64, n);
  truth->lacks_s = g_new0 (double, n);
  truth->stretch = g_new0 (int, n);
  truth->gps_us = g_new0 (gint64, n);
  truth->notes = g_new0 (SwWalkNote, things + scene->visits->len);
  truth->note_wrong = g_new0 (gboolean, things + scene->visits->len);
  truth->items = g_new0 (SwWalkItem, things);
  truth->places = g_new0 (SwWalkPlace, (gsize)scene->n_places);
  truth->cameras = g_new0 (SwWalkCamera, (gsize)scene->kind->cameras);
  truth->shift_s = g_new0 (double, (gsize)scene->kind->cameras);
  truth->jumps = g_new0 (gboolean, (gsize)scene->kind->cameras);
  truth->thing_place = g_new0 (int, things);
  truth->thing_item = g_new0 (int, things);
  truth->n_things = scene->n_things;
  truth->n_visits = (int)scene->visits->len;
}

static void
lay_out (TrueWalk *truth, const Scene *scene)
{
  static const char *const names[N_PLACES]
      = { "Packing shed", "Press house", "Cold store", "Cooperage", "Glasshouse", "Machine shed" };

  for (int k = 0; k < scene->n_places; k++)
    truth->places[k] = (SwWalkPlace){ .name = names[k], .parent = -1 };
  for (guint i = 0; i < scene->shots->len; i++)
    {
      const Shot *shot = &g_array_index (scene->shots, Shot, i);
      const Visit *visit = &g_array_index (scene->visits, Visit, (guint)shot->visit);

      truth->photos[i] = (SwWalkPhoto){ .id = (gint64)i + 1,
                                        .camera = shot->camera,
                                        .time_kind = SW_WALK_TIME_OWN,
                                        .decided = SW_WALK_OPEN,
                                        .place = -1 };
      truth->visit[i] = shot->visit;
      truth->thing[i] = visit->thing;
      truth->item[i] = truth->thing_item[visit->thing];
      truth->also[i] = shot->also >= 0 ? truth->thing_item[shot->also] : -1;
      truth->again[i] = visit->again;
      truth->place[i] = visit->place;
    }
}

static TrueWalk *
new_walk (guint64 seed, guint64 person_seed, const WalkKind *kind)
{
  TrueWalk *truth = g_new0 (TrueWalk, 1);
  g_autofree Ground *grounds = g_new0 (Ground, N_PLACES);
  Scene scene = {
    .seed = seed, .person_seed = person_seed, .kind = kind, .grounds = grounds, .n_places = N_PLACES
  };

  truth->seed = seed;
  truth->kind = *kind;
  scene.truth = truth;
  scene.visits = g_array_new (FALSE, TRUE, sizeof (Visit));
  scene.shots = g_array_new (FALSE, TRUE, sizeof (Shot));
  scene_walk (&scene);
  if (kind->cards)
    scene_add_cards (&scene);
  make_room (truth, &scene);
  scene_note (&scene);
  lay_out (truth, &scene);
  scene_clocks (&scene);
  if (kind->cards)
    scene_mark_cards (&scene);
  if (kind->tags)
    scene_tags (&scene);
  if (kind->pictures)
    scene_pictures (&scene);
  if (kind->positions)
    scene_positions (&scene);
  truth->walk.photos = truth->photos;
  truth->walk.n_photos = scene.shots->len;
  truth->walk.notes = truth->notes;
  truth->walk.items = truth->items;
  truth->walk.places = truth->places;
  truth->walk.n_places = N_PLACES;
  truth->walk.cameras = truth->cameras;
  truth->walk.n_cameras = (gsize)kind->cameras;
  g_array_unref (scene.visits);
  g_array_unref (scene.shots);
  return truth;
}

TrueWalk *
true_walk_new (guint64 seed, const WalkKind *kind)
{
  return new_walk (seed, seed, kind);
}

TrueWalk *
true_walk_of_same_person (const TrueWalk *walk, int k)
{
  /* Seeds of sets lie below 2 to the 32. */
  return new_walk (walk->seed + ((guint64)k << 32), walk->seed, &walk->kind);
}

void
true_walk_free (TrueWalk *walk)
{
  if (walk == NULL)
    return;
  g_free (walk->photos);
  g_free (walk->visit);
  g_free (walk->thing);
  g_free (walk->item);
  g_free (walk->also);
  g_free (walk->again);
  g_free (walk->place);
  g_free (walk->true_us);
  g_free (walk->lacks_s);
  g_free (walk->stretch);
  g_free (walk->gps_us);
  g_free (walk->notes);
  g_free (walk->note_wrong);
  g_free (walk->items);
  g_free (walk->places);
  g_free (walk->cameras);
  g_free (walk->shift_s);
  g_free (walk->jumps);
  g_free (walk->thing_place);
  g_free (walk->thing_item);
  g_free (walk);
}
