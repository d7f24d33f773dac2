/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stretches of a clock between its changes. The search for changes (clock-parts.c) knows shifts
 * only as well as its few candidates; here each stretch has the whole model's word. */
#include "core/match/clock-stretches.h"

#include "core/match/clock-gather.h"
#include "core/match/clock-judge.h"
#include "core/match/clock-pieces.h"

#include <math.h>
#include <string.h>

/* A stretch of fewer photos stays where it was put. */
#define LEAST_PHOTOS 4
#define OWN_TRIES 10
/* By so much one stretch may seem to begin before another ends. */
#define OVERLAP_US (60 * SW_US_PER_SECOND)
/* Notes this near may be of a photo. */
#define NOTES_AROUND_US (300 * SW_US_PER_SECOND)
/* How little a stretch is known that cannot be judged. */
#define UNJUDGED_SPREAD_S 120.0
/* Modes of the first stretch that are followed to the end, and how far behind the best (in nats)
 * one may be. */
#define FOLLOWED 4
#define FOLLOWED_BEHIND 9.0
/* What one that leaves another stretch no room is worth. */
#define NO_ROOM -1000.0
/* Tries this near are one. */
#define SAME_TRY_S 1.0
/* A stretch that is laid elsewhere by more than this matters to other cameras. */
#define MOVED_US (5 * SW_US_PER_SECOND)

typedef struct
{
  int camera;
  guint from, upto;     /* indices into walk->photos */
  gboolean later_stand; /* the camera's photos after it are where they belong */
} Stretch;

static gboolean
is_in (const SwStopsWork *work, const Stretch *stretch, guint photo)
{
  return work->camera[photo] == stretch->camera && photo >= stretch->from && photo < stretch->upto;
}

/* The photos of the stretch where they stand, or all others that do, but for those that are still
 * to be judged. */
static GArray *
take_photos (const SwStopsWork *work, const gboolean *standing, const Stretch *stretch,
             gboolean inside)
{
  g_autoptr (GArray) all = sw_clock_standing_photos (work, standing);
  GArray *photos = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));

  for (guint i = 0; i < all->len; i++)
    {
      const SwModelPhoto *photo = &g_array_index (all, SwModelPhoto, i);

      if (!inside && !stretch->later_stand && work->camera[photo->photo] == stretch->camera
          && photo->photo >= stretch->upto)
        continue;
      if (is_in (work, stretch, photo->photo) == inside && (!inside || work->set[photo->photo] < 0))
        g_array_append_val (photos, *photo);
    }
  return photos;
}

/* Between what moments of property time the camera's other photos leave room for the stretch: it
 * takes its photos one after the other. */
typedef struct
{
  gint64 from_us, upto_us;
} Room;

static Room
room_of (const SwStopsWork *work, const Stretch *stretch, const GArray *others)
{
  Room room = { G_MININT64, G_MAXINT64 };

  for (guint i = 0; i < others->len; i++)
    {
      const SwModelPhoto *photo = &g_array_index (others, SwModelPhoto, i);

      if (work->camera[photo->photo] != stretch->camera)
        continue;
      if (photo->photo < stretch->from)
        room.from_us = MAX (room.from_us, photo->t_us - OVERLAP_US);
      else
        room.upto_us = MIN (room.upto_us, photo->t_us + OVERLAP_US);
    }
  return room;
}

/* Drops the tries by which the stretch would not lie in its room. Returns how many stay. */
static gsize
drop_overlaps (const Room *room, const GArray *moved, SwClockMode *tries, gsize n)
{
  gint64 first = g_array_index (moved, SwModelPhoto, 0).t_us;
  gint64 last = g_array_index (moved, SwModelPhoto, moved->len - 1).t_us;
  gsize kept = 0;

  for (gsize k = 0; k < n; k++)
    {
      gint64 by = (gint64)llrint (tries[k].shift_s * 1e6);

      if (first + by >= room->from_us && last + by <= room->upto_us)
        tries[kept++] = tries[k];
    }
  return kept;
}

/* Notes that photos in the room could go with: of all notes those would be the most tries that
 * overlap. Transfer full. */
static GArray *
notes_in (const SwWalk *walk, const Room *room)
{
  GArray *notes = g_array_new (FALSE, FALSE, sizeof (SwWalkNote));

  for (gsize k = 0; k < walk->n_notes; k++)
    if ((room->from_us == G_MININT64 || walk->notes[k].time_us >= room->from_us - NOTES_AROUND_US)
        && (room->upto_us == G_MAXINT64
            || walk->notes[k].time_us <= room->upto_us + NOTES_AROUND_US))
      g_array_append_val (notes, walk->notes[k]);
  return notes;
}

/* What a stretch may be by beyond its base. */
typedef struct
{
  SwClockMode modes[SW_CLOCK_MODES]; /* heaviest first */
  gsize n;
  SwClockCounts counts[SW_CLOCK_MODES];
  double anchors[SW_CLOCK_MODES]; /* what faces and fixes say of each */
  gboolean no_room;               /* wherever it may be, it overlaps what stands */
} Judged;

/* Tries by the notes that the room leaves it, and by all: those know more of the lags, but overlap
 * more often. Weighed by the former. Returns how many there are. */
static gsize
find_tries (const SwStopsWork *work, const Room *room, const GArray *moved,
            const SwClockEvidence *evidence, SwClockMode *out)
{
  g_autoptr (GArray) notes = notes_in (work->walk, room);
  SwClockEvidence inside = *evidence;
  SwClockMode more[OWN_TRIES];
  gsize n, n_more;

  inside.notes = (const SwWalkNote *)(void *)notes->data;
  inside.n_notes = notes->len;
  n = drop_overlaps (room, moved, out, sw_clock_tries (&inside, out, OWN_TRIES));
  if (notes->len == work->walk->n_notes)
    return n;
  n_more = drop_overlaps (room, moved, more, sw_clock_tries (evidence, more, OWN_TRIES));
  for (gsize k = 0; k < n_more; k++)
    {
      gboolean known = FALSE;

      for (gsize j = 0; j < n; j++)
        known |= fabs (out[j].shift_s - more[k].shift_s) < SAME_TRY_S;
      if (!known)
        out[n++] = sw_clock_weigh (&inside, more[k].shift_s);
    }
  return sw_clock_sort_modes (out, n);
}

static void
judge_stretch (const SwStopsWork *work, const gboolean *standing, const Stretch *stretch,
               double base_s, Judged *out)
{
  g_autoptr (GArray) moved = take_photos (work, standing, stretch, TRUE);
  g_autoptr (GArray) others = take_photos (work, standing, stretch, FALSE);
  g_autoptr (SwClockJudge) judge = NULL;
  g_auto (SwClockGathered) own = { 0 };
  SwClockMode tries[2 * OWN_TRIES];
  Room room = room_of (work, stretch, others);
  gsize n_tries;

  *out = (Judged){ 0 };
  if (moved->len < LEAST_PHOTOS)
    return;
  sw_clock_gather_photos (work, moved, &own);
  own.evidence.bases = &base_s;
  own.evidence.n_bases = 1;
  n_tries = find_tries (work, &room, moved, &own.evidence, tries);
  out->no_room = n_tries == 0;
  judge = sw_clock_judge_new (work->walk, moved, others, work->alone);
  out->n = sw_clock_judge_tries (judge, &own.evidence, tries, n_tries, out->modes);
  out->n = sw_clock_add_doubt (out->modes, out->n, tries, n_tries);
  for (gsize k = 0; k < out->n; k++)
    {
      out->counts[k] = sw_clock_count (&own.evidence, out->modes[k].shift_s);
      out->anchors[k] = sw_clock_anchors_likelihood (&own.evidence, out->modes[k].shift_s);
    }
}

/* The clock of a stretch by all of its modes, or by number 'pick' alone, known or not; and by how
 * much it is beyond its base. */
#define ALL_MODES G_MAXSIZE
static SwClockResult
settle_stretch (const Judged *judged, gsize pick, double base_s, double *out_by_s)
{
  gsize from = pick == ALL_MODES ? 0 : pick, n = pick == ALL_MODES ? judged->n : 1;
  SwClockResult result = sw_clock_settle (judged->modes + from, n);
  gboolean believed = result.known || pick != ALL_MODES;

  *out_by_s = believed ? result.shift_s : 0;
  if (!believed)
    result = (SwClockResult){ .spread_s = MAX (result.spread_s, UNJUDGED_SPREAD_S) };
  result.known = TRUE;
  result.shift_s = base_s + *out_by_s;
  result.other_s += result.other_share > 0 ? base_s : 0;
  for (int k = 0; k < result.n_modes; k++)
    result.modes[k].shift_s += base_s;
  if (n > 0)
    result.counts = judged->counts[from];
  result.evidence = sw_clock_counts_sum (&result.counts);
  return result;
}

static void
move_stretch (SwStopsWork *work, const Stretch *stretch, double by_s)
{
  for (guint i = stretch->from; i < MIN (stretch->upto, work->walk->n_photos); i++)
    if (is_in (work, stretch, i))
      work->lean_us[i] += (gint64)llrint (by_s * 1e6);
}

/* A clock that was set on or back by whole hours was left as wrong as it was: all such stretches
 * are judged as one, where they lean. */
static gboolean
is_tied (const SwClockPart *part)
{
  return sw_part_half_hours (part->step_s) != 0
         && fabs (remainder (part->step_s, SW_CLOCK_HOUR_S)) < 0.5;
}

/* Part k or the first after it that is not tied to what is before it; n for none. */
static guint
next_loose (const SwClockPart *parts, guint k, guint n)
{
  while (k < n && is_tied (&parts[k]))
    k++;
  return k;
}

/* By how much the clock changes from part 'from' up to, not with, part 'upto'. */
static double
steps_between (const SwClockPart *parts, guint from, guint upto)
{
  double sum = 0;

  for (guint k = from; k < upto; k++)
    sum += parts[k].step_s;
  return sum;
}

/* One camera whose clock changes. */
typedef struct
{
  SwStopsWork *work;
  const gboolean *standing;
  int camera;
  SwClockPart *parts;
  guint n;
  SwClockResult *clock;
} Camera;

/* How a camera's photos are laid. */
typedef struct
{
  gint64 *lean_us; /* of all photos of the walk */
  SwClockPart *parts;
  SwClockResult clock;
  double value; /* log posterior, but for a constant */
} Laid;

static void
laid_clear (Laid *laid)
{
  g_clear_pointer (&laid->lean_us, g_free);
  g_clear_pointer (&laid->parts, g_free);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Laid, laid_clear)

typedef struct
{
  Laid laid[FOLLOWED];
} Followed;

static void
followed_clear (Followed *followed)
{
  for (gsize k = 0; k < FOLLOWED; k++)
    laid_clear (&followed->laid[k]);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Followed, followed_clear)

static void
laid_read (Laid *laid, const Camera *camera)
{
  laid_clear (laid);
  laid->lean_us = g_memdup2 (camera->work->lean_us, sizeof (gint64) * camera->work->walk->n_photos);
  laid->parts = g_memdup2 (camera->parts, sizeof (SwClockPart) * camera->n);
  laid->clock = *camera->clock;
}

static void
laid_restore (const Laid *laid, const Camera *camera)
{
  memcpy (camera->work->lean_us, laid->lean_us, sizeof (gint64) * camera->work->walk->n_photos);
  memcpy (camera->parts, laid->parts, sizeof (SwClockPart) * camera->n);
  *camera->clock = laid->clock;
}

/* Lays the stretches one after the other, each by its likeliest mode beside what is laid; again:
 * all were laid before. first: what the first one may be, NULL where that is to be judged; it is
 * laid by its mode 'pick', or by all of them where that is ALL_MODES. Returns what faces and fixes
 * say of it all. */
static double
lay_stretches (const Camera *camera, gboolean again, const Judged *first, gsize pick)
{
  SwStopsWork *work = camera->work;
  SwClockPart *parts = camera->parts;
  guint n = camera->n, k = next_loose (parts, 0, n), next;
  Stretch stretch = { camera->camera, 0, parts[k].from, again };
  double base_s = camera->clock->shift_s, begin_by_s, by_s = 0, before_s, tied_s, anchors;
  SwClockResult begin;
  Judged judged;

  if (first != NULL)
    judged = *first;
  else
    judge_stretch (work, camera->standing, &stretch, base_s, &judged);
  begin = settle_stretch (&judged, pick, base_s, &begin_by_s);
  anchors = judged.anchors[pick == ALL_MODES ? 0 : pick];
  begin.drift_s_day = camera->clock->drift_s_day;
  begin.drift_from_us = camera->clock->drift_from_us;
  move_stretch (work, &stretch, begin_by_s);
  tied_s = steps_between (parts, 0, k);
  before_s = begin.shift_s + tied_s;
  base_s += tied_s;
  for (; k < n; k = next)
    {
      next = next_loose (parts, k + 1, n);
      base_s += parts[k].step_s;
      stretch.from = parts[k].from;
      stretch.upto = next < n ? parts[next].from : G_MAXUINT;
      judge_stretch (work, camera->standing, &stretch, base_s, &judged);
      parts[k].clock = settle_stretch (&judged, ALL_MODES, base_s, &by_s);
      anchors += judged.no_room ? NO_ROOM : judged.anchors[0];
      move_stretch (work, &stretch, by_s);
      parts[k].step_s = parts[k].clock.shift_s - before_s;
      tied_s = steps_between (parts, k + 1, next);
      before_s = parts[k].clock.shift_s + tied_s;
      base_s += tied_s;
    }
  /* What the first stretch moved by is the camera's own shift. */
  stretch = (Stretch){ .camera = camera->camera, .upto = G_MAXUINT };
  move_stretch (work, &stretch, -begin_by_s);
  begin.beside_s = camera->clock->beside_s;
  *camera->clock = begin;
  return anchors;
}

static double
value_of (const Camera *camera, double anchors)
{
  g_autoptr (GArray) photos = sw_clock_standing_photos (camera->work, camera->standing);
  double evidence = sw_clock_judge_photos (camera->work->walk, photos);
  gsize own = 0;

  for (guint i = 0; i < photos->len; i++)
    own += camera->work->camera[g_array_index (photos, SwModelPhoto, i).photo] == camera->camera;
  return sw_clock_judge_toned (evidence, own) + anchors
         + sw_clock_log_prior (camera->clock->shift_s);
}

/* Lays the stretches for each of the first one's likely modes. All stays as it was. Returns how
 * many there are. */
static gsize
follow_modes (const Camera *camera, Laid *out)
{
  guint k = next_loose (camera->parts, 0, camera->n);
  Stretch stretch = { camera->camera, 0, camera->parts[k].from, FALSE };
  g_auto (Laid) start = { 0 };
  Judged first;
  gsize n = 0;

  judge_stretch (camera->work, camera->standing, &stretch, camera->clock->shift_s, &first);
  laid_read (&start, camera);
  for (gsize m = 0; m < first.n && n < FOLLOWED; m++)
    {
      double anchors;

      if (first.modes[m].log_weight < first.modes[0].log_weight - FOLLOWED_BEHIND)
        break;
      anchors = lay_stretches (camera, FALSE, &first, m);
      laid_read (&out[n], camera);
      out[n++].value = value_of (camera, anchors);
      laid_restore (&start, camera);
    }
  return n;
}

/* Each beside all others once more; where the whole is no likelier by it than it was, all stays. */
static void
lay_again (const Camera *camera, double value)
{
  g_auto (Laid) before = { 0 };
  double anchors;

  laid_read (&before, camera);
  anchors = lay_stretches (camera, TRUE, NULL, ALL_MODES);
  if (value_of (camera, anchors) < value)
    laid_restore (&before, camera);
}

/* A clock may also be as it would be were the stretches laid otherwise. */
static void
widen (SwClockResult *clock, double share, double other_s)
{
  clock->spread_s = hypot (clock->spread_s, sqrt (share) * (other_s - clock->shift_s));
}

/* The first stretch by itself may be of several shifts, and what follows has its room after it:
 * each of them is followed to the end, and the likeliest whole believed. */
static void
judge_camera (const Camera *camera)
{
  g_auto (Followed) followed = { 0 };
  double sum = 0, value;
  gsize n, best = 0;

  /* The look at the whole camera judged it as one. */
  if (next_loose (camera->parts, 0, camera->n) == camera->n)
    return;
  n = follow_modes (camera, followed.laid);
  for (gsize m = 1; m < n; m++)
    if (followed.laid[m].value > followed.laid[best].value)
      best = m;
  if (n > 0)
    laid_restore (&followed.laid[best], camera);
  value = n > 0 ? followed.laid[best].value
                : value_of (camera, lay_stretches (camera, FALSE, NULL, ALL_MODES));
  lay_again (camera, value);
  for (gsize m = 0; m < n; m++)
    sum += exp (followed.laid[m].value - followed.laid[best].value);
  for (gsize m = 0; m < n; m++)
    {
      const Laid *other = &followed.laid[m];
      double share = exp (other->value - followed.laid[best].value) / sum;

      if (m == best)
        continue;
      widen (camera->clock, share, other->clock.shift_s);
      for (guint k = 0; k < camera->n; k++)
        widen (&camera->parts[k].clock, share, other->parts[k].clock.shift_s);
    }
}

gboolean
sw_clock_judge_stretches (SwStopsWork *work, const gboolean *standing)
{
  gsize size = sizeof (gint64) * work->walk->n_photos;
  g_autofree gint64 *before_us = g_memdup2 (work->lean_us, size);
  gboolean moved = FALSE;

  for (guint k = 0, n; k < work->parts->len; k += n)
    {
      SwClockPart *parts = &g_array_index (work->parts, SwClockPart, k);
      Camera camera = { work, standing, parts->camera, parts, 0, NULL };

      for (n = 1; k + n < work->parts->len && parts[n].camera == parts->camera;)
        n++;
      camera.n = n;
      camera.clock = &work->proposal->clocks[parts->camera];
      if (standing[parts->camera] && camera.clock->known)
        judge_camera (&camera);
    }
  for (gsize i = 0; i < work->walk->n_photos; i++)
    moved |= ABS (work->lean_us[i] - before_us[i]) > MOVED_US;
  return moved;
}
