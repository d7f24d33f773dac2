/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The person and the way over the property: what is photographed when and from where. Pauses have
 * heavy tails, ways take as long as they are. */
#include "walk-scene.h"

#include <math.h>

#define SITE_M 260.0
/* 2026-06-20 00:00, and hours of the day. */
#define FIRST_DAY_S 1781913600.0
#define DAY_S 86400.0

static double
distance_m (Spot a, Spot b)
{
  return hypot (a.east_m - b.east_m, a.north_m - b.north_m);
}

static Person
draw_person (Dice *dice)
{
  static const struct
  {
    double within_from, within_to, within_sd, look_from, look_to;
  } habits[N_PERSONS] = {
    [PERSON_QUICK] = { 2.5, 5, 0.45, 18, 40 },
    [PERSON_CAREFUL] = { 7, 14, 0.5, 35, 90 },
    [PERSON_OVERVIEW] = { 4, 9, 0.5, 25, 70 },
    [PERSON_CIRCLER] = { 5, 9, 0.25, 30, 70 },
  };
  Person person = { .kind = (PersonKind)dice_range (dice, 0, N_PERSONS - 1) };

  /* One after the other: within one initializer the order would be the compiler's. */
  person.look_s = dice_between (dice, habits[person.kind].look_from, habits[person.kind].look_to);
  person.within_s
      = dice_between (dice, habits[person.kind].within_from, habits[person.kind].within_to);
  person.within_sd = habits[person.kind].within_sd * dice_between (dice, 0.8, 1.2);
  person.look_sd = dice_between (dice, 0.25, 0.5);
  person.speed = dice_between (dice, 0.6, 1.2); /* detours counted in */
  person.note_before = dice_uniform (dice);
  /* Who walks on at once jots at once. */
  person.lag_s = person.look_s * dice_between (dice, 0.1, 0.4);
  person.step_s = dice_chance (dice, 0.3) ? 60 : 1;
  return person;
}

static int
photo_count (Dice *dice, const Person *person)
{
  static const int most[N_PERSONS][2] = { { 1, 4 }, { 3, 9 }, { 2, 8 }, { 4, 12 } };

  /* Everybody is short with some things. */
  if (dice_chance (dice, 0.15))
    return dice_range (dice, 1, 2);
  return dice_range (dice, most[person->kind][0], most[person->kind][1]);
}

/* Pause before photo k of a thing. */
static double
pause_s (Dice *dice, const Person *person, int k)
{
  double usual = person->within_s;

  if (dice_chance (dice, 0.06)) /* twice at once */
    return dice_between (dice, 0.4, 1.2);
  if (dice_chance (dice, 0.035)) /* something is moved, wiped or read */
    return dice_pareto (dice, 2.5 * usual, 1.3, 240);
  if (person->kind == PERSON_OVERVIEW && k == 1)
    usual *= dice_between (dice, 1.5, 3);
  if (person->kind == PERSON_CIRCLER)
    {
      usual *= dice_between (dice, 0.55, 1.45);
      return dice_chance (dice, 0.1) ? 2 * usual : usual;
    }
  return MIN (dice_heavy (dice, usual, person->within_sd), 240);
}

/* How near and from which side photo k of a thing is taken: often much as the one before. */
static void
aim (Shot *shot, Dice *dice, const Person *person, int k, int count, const Shot *before)
{
  gboolean near = dice_chance (dice, 0.3), as_before = dice_chance (dice, 0.5);
  double change = dice_between (dice, 0.93, 1.07), aside;

  shot->zoom = near ? dice_between (dice, 0.35, 0.6) : dice_between (dice, 0.85, 1.1);
  aside = 0.2 * MAX (0, 1 - shot->zoom);
  shot->angle = 0.2 * dice_normal (dice);
  shot->x = 0.03 * dice_normal (dice);
  shot->x += aside * dice_normal (dice);
  shot->y = 0.03 * dice_normal (dice);
  shot->y += aside * dice_normal (dice);
  if (k > 0 && as_before)
    {
      shot->zoom = before->zoom * change;
      shot->x = before->x + 0.02 * dice_normal (dice);
      shot->y = before->y + 0.02 * dice_normal (dice);
    }
  if (person->kind == PERSON_OVERVIEW && k == 0)
    shot->zoom = dice_between (dice, 1, 1.2);
  if (person->kind == PERSON_CIRCLER)
    shot->angle = 2 * G_PI * k / count + 0.1 * dice_normal (dice);
}

/* The camera in hand at a thing: mostly the phone; the others for whole things or in between. */
static int
pick_camera (Dice *dice, int cameras, int habit)
{
  int other = dice_range (dice, 1, MAX (cameras - 1, 1));
  double turn = dice_uniform (dice);

  if (cameras == 1 || habit < 55)
    return 0;
  return habit < 70 || turn < 0.45 ? other : 0;
}

static void
shoot (Scene *scene, Dice *dice, Visit visit, int count, double *now)
{
  int habit = dice_range (dice, 0, 99);
  Dice hands = dice_new (scene->seed + scene->visits->len, SIDE_HANDS);
  Shot before = { 0 };

  visit.start_s = *now;
  for (int k = 0; k < count; k++)
    {
      Shot shot = { .visit = (int)scene->visits->len, .also = -1 };

      double pause = k > 0 ? pause_s (dice, &scene->person, k) : 0;
      double change = dice_between (&hands, 2, 6);

      shot.camera = pick_camera (dice, scene->kind->cameras, habit);
      /* One camera is laid down, the other taken up. */
      if (k > 0 && shot.camera != before.camera)
        pause = MAX (pause, change);
      *now += pause;
      shot.t_s = *now;
      aim (&shot, dice, &scene->person, k, count, &before);
      before = shot;
      if (visit.overview)
        shot.zoom = 1.6;
      g_array_append_val (scene->shots, shot);
    }
  visit.end_s = *now;
  g_array_append_val (scene->visits, visit);
}

static void
draw_grounds (Scene *scene, Dice *dice)
{
  for (int k = 0; k < scene->n_places; k++)
    {
      Ground *ground = &scene->grounds[k];
      double nearest;
      int tries = 0;

      ground->size_m = dice_between (dice, 10, 28);
      ground->roof = dice_chance (dice, 0.3);
      do
        {
          nearest = SITE_M;
          ground->middle.east_m = SITE_M * dice_uniform (dice);
          ground->middle.north_m = SITE_M * dice_uniform (dice);
          for (int j = 0; j < k; j++)
            nearest = MIN (nearest, distance_m (ground->middle, scene->grounds[j].middle));
        }
      while (nearest < 35 && tries++ < 50);
    }
}

/* The near ones first, mostly. */
static int
next_place (const Scene *scene, Dice *dice, int from)
{
  double weight[16], sum = 0, turn;

  g_assert (scene->n_places <= 16);
  for (int k = 0; k < scene->n_places; k++)
    {
      weight[k]
          = k == from
                ? 0
                : exp (-distance_m (scene->grounds[k].middle, scene->grounds[from].middle) / 80);
      sum += weight[k];
    }
  turn = sum * dice_uniform (dice);
  for (int k = 0; k < scene->n_places; k++)
    if ((turn -= weight[k]) < 0)
      return k;
  return (from + 1) % scene->n_places;
}

static Spot
spot_in (const Ground *ground, Spot from, double step_m, double way)
{
  double half = ground->size_m / 2;
  Spot spot = { from.east_m + step_m * cos (way), from.north_m + step_m * sin (way) };

  spot.east_m = CLAMP (spot.east_m, ground->middle.east_m - half, ground->middle.east_m + half);
  spot.north_m = CLAMP (spot.north_m, ground->middle.north_m - half, ground->middle.north_m + half);
  return spot;
}

/* A thing seen before, from the last dozen; -1: none yet. */
static int
thing_again (const Scene *scene, Dice *dice)
{
  int len = (int)scene->visits->len, back = dice_range (dice, 2, 12);
  const Visit *visit;

  if (len < back)
    return -1;
  visit = &g_array_index (scene->visits, Visit, len - back);
  return visit->overview || visit->again ? -1 : len - back;
}

static double
morning_s (Dice *dice, int day)
{
  return FIRST_DAY_S + day * DAY_S + 3600 * dice_between (dice, 8, 10);
}

/* Breaks and nights before thing k. */
static void
rest (const Scene *scene, Dice *dice, int k, int days, int *day, double *now)
{
  if (k > 0 && dice_chance (dice, 0.02))
    *now += 60 * dice_between (dice, 5, 45);
  if (*day + 1 < days && k * days >= (*day + 1) * scene->kind->things)
    {
      double morning = morning_s (dice, ++*day);

      *now = MAX (*now, morning);
    }
}

static void
go_back (Scene *scene, Dice *dice, Spot *here, double *now)
{
  int at = thing_again (scene, dice), count = dice_range (dice, 1, 3);
  Visit again;

  if (at < 0)
    return;
  again = g_array_index (scene->visits, Visit, at);
  again.again = TRUE;
  again.arrive_s = 0;
  *now += distance_m (*here, again.spot) / scene->person.speed
          + dice_heavy (dice, 0.5 * scene->person.look_s, scene->person.look_sd);
  *here = again.spot;
  shoot (scene, dice, again, count, now);
}

/* Steps to the next thing, perhaps in another place; returns when a place was entered, or 0. */
static double
step_on (Scene *scene, Dice *dice, int k, int *place, Spot *here, double *now)
{
  double arrive = 0, far_m, way;
  Spot from = *here;

  if (k == 0 || dice_chance (dice, 0.12))
    {
      *place = k == 0 ? *place : next_place (scene, dice, *place);
      far_m = dice_between (dice, 0, scene->grounds[*place].size_m / 2);
      way = 2 * G_PI * dice_uniform (dice);
      *here = spot_in (&scene->grounds[*place], scene->grounds[*place].middle, far_m, way);
      *now += distance_m (from, *here) / scene->person.speed;
      arrive = *now;
    }
  else
    {
      far_m = 1.5 + dice_exponential (dice, 4);
      way = 2 * G_PI * dice_uniform (dice);
      *here = spot_in (&scene->grounds[*place], from, far_m, way);
      *now += distance_m (from, *here) / scene->person.speed;
    }
  return arrive;
}

/* Wide views: the thing before or after in the same place stands in them too. */
static void
widen (Scene *scene)
{
  Dice dice = dice_new (scene->seed, SIDE_WIDE);

  for (guint i = 0; i < scene->shots->len; i++)
    {
      Shot *shot = &g_array_index (scene->shots, Shot, i);
      int other = shot->visit + (dice_chance (&dice, 0.5) ? 1 : -1);
      const Visit *here = &g_array_index (scene->visits, Visit, (guint)shot->visit), *near;

      if (!dice_chance (&dice, 0.03) || here->overview || other < 0
          || other >= (int)scene->visits->len)
        continue;
      near = &g_array_index (scene->visits, Visit, (guint)other);
      if (near->place != here->place || near->overview || near->thing == here->thing
          || distance_m (near->spot, here->spot) > 9)
        continue;
      shot->also = near->thing;
      shot->zoom = 1.3;
    }
}

void
scene_walk (Scene *scene)
{
  Dice dice = dice_new (scene->seed, SIDE_WALK), own = dice_new (scene->person_seed, SIDE_WALK);
  int place = 0, day = 0, days;
  double now = morning_s (&dice, 0);
  Spot here;

  draw_person (&dice); /* a walk's own person is the first that its dice draw */
  scene->person = draw_person (&own);
  draw_grounds (scene, &dice);
  days = dice_chance (&dice, 0.15) ? 2 : 1;
  days = scene->kind->days > 0 ? scene->kind->days : days;
  here = scene->grounds[0].middle;
  for (int k = 0; k < scene->kind->things; k++)
    {
      Visit visit = { 0 };

      rest (scene, &dice, k, days, &day, &now);
      if (dice_chance (&dice, 0.02))
        go_back (scene, &dice, &here, &now);
      visit.arrive_s = step_on (scene, &dice, k, &place, &here, &now);
      visit.place = place;
      if (visit.arrive_s > 0 && dice_chance (&dice, 0.4))
        {
          Visit overview = { .thing = scene->n_things++, .place = place, .overview = TRUE };

          overview.spot = scene->grounds[place].middle;
          overview.arrive_s = visit.arrive_s;
          visit.arrive_s = 0;
          now += dice_between (&dice, 3, 20);
          shoot (scene, &dice, overview, dice_range (&dice, 1, 2), &now);
        }
      now += dice_heavy (&dice, scene->person.look_s, scene->person.look_sd);
      visit.thing = scene->n_things++;
      visit.spot = here;
      shoot (scene, &dice, visit, photo_count (&dice, &scene->person), &now);
    }
  widen (scene);
}
