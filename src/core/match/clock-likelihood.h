/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How well each kind of evidence goes with a shift of one camera's clock. Match layer, pure;
 * private to the clock modules and their tests. All are natural logarithms of likelihood ratios
 * against 'this piece of evidence tells nothing of the clock', so that they add up, and a piece
 * that is wrong costs little more than that it is lost. */
#pragma once

#include "core/match/params.h"
#include "core/match/walk.h"

G_BEGIN_DECLS

/* A stop of that camera by its own clock. item: what a person decided of it, else SW_WALK_OPEN. */
typedef struct
{
  gint64 first_us, last_us;
  int item;
} SwClockStop;

/* A moment of that camera's clock with the property's time beside it: a clock face in the picture,
 * or the time of a position fix. */
typedef struct
{
  gint64 clock_us;
  gint64 true_us;
  gint64 resolution_us; /* the truth lies from true_us up to that much later */
  gboolean dateless;    /* a face tells no day */
} SwClockAnchor;

/* What speaks of one camera's clock. Borrowed arrays, all in time order. */
typedef struct
{
  const SwClockStop *stops;
  gsize n_stops;
  const SwWalkNote *notes; /* item notes count, others are passed over */
  gsize n_notes;
  const SwClockAnchor *faces;
  gsize n_faces;
  const SwClockAnchor *fixes; /* one a fix: where several photos bear the same, the first */
  gsize n_fixes;
  const gint64 *photos; /* by its own clock */
  gsize n_photos;
  const gint64 *others; /* photos of cameras whose clock is settled, property time */
  gsize n_others;
  const SwWalkParams *params; /* gaps, as far as known */
  /* Several cameras as one: the shifts that the times have in them already, and to which one more
   * is sought; the prior is that of all their sums. None: 0. */
  const double *bases;
  gsize n_bases;
} SwClockEvidence;

/* Seconds from a shift to what a face says of it: 0 within its resolution, else the distance to the
 * nearer end; whole days left out for a face without one. */
double sw_clock_face_away (const SwClockAnchor *face, double shift_s);

/* Seconds by which a fix is older than its photo under that shift. */
double sw_clock_fix_age (const SwClockAnchor *fix, double shift_s);

/* Tables made once for an evidence, which is borrowed. Transfer full. */
typedef struct _SwClockTables SwClockTables;
SwClockTables *sw_clock_tables_new (const SwClockEvidence *evidence);
void sw_clock_tables_free (SwClockTables *tables);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwClockTables, sw_clock_tables_free)
/* All notes. The person's habit (before or after, how soon) is not known and summed over. */
double sw_clock_notes_likelihood (const SwClockTables *tables, double shift_s);
/* Note k alone, against the stops from, up to and not including upto. */
double sw_clock_note_likelihood (const SwClockTables *tables, gsize k, double shift_s, gsize from,
                                 gsize upto);
/* The photos among the other cameras': one person's walk has the gaps of one walk. */
double sw_clock_among_likelihood (const SwClockTables *tables, double shift_s);

/* Faces: right within seconds, unless mistyped or a clock that goes wrong. */
double sw_clock_face_likelihood (const SwClockAnchor *face, double shift_s);
/* Fixes: never newer than the photo, often older by minutes. */
double sw_clock_fix_likelihood (const SwClockAnchor *fix, double shift_s);

G_END_DECLS
