/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cuts a camera's photos into runs, gathers the pieces, and asks the evidence as a whole and in
 * parts for shifts. Must not choose among them. */
#include "core/match/clock-pieces.h"

#include <math.h>

/* A clock that steps back by this between two photos, or on by PART_ON_US, began another run. */
#define BACK_US (60 * SW_US_PER_SECOND)
/* More runs than this: names do not tell the order, and time alone does. */
#define MAX_RUNS 5
#define PIECES_ENOUGH 400
/* Thirds of the evidence are asked for shifts of their own where there are so many pieces. */
#define THIRDS_FROM 9
#define DAY_S 86400.0
/* Nobody sets a clock by more half hours than there are zones. */
#define HALF_HOURS_MOST 28

static void
run_free (gpointer data)
{
  PartRun *run = data;

  g_clear_pointer (&run->photos, g_array_unref);
  g_clear_pointer (&run->tables, sw_clock_tables_free);
  sw_clock_gathered_clear (&run->own);
  g_free (run);
}

/* --- runs --- */

static PartRun *
run_new (void)
{
  PartRun *run = g_new0 (PartRun, 1);

  run->photos = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));
  return run;
}

static int
compare_order (gconstpointer a, gconstpointer b)
{
  const SwModelPhoto *x = a, *y = b;

  return (x->photo > y->photo) - (x->photo < y->photo);
}

/* The camera's photos, cut where its clock steps in the order that they were taken in. */
static void
cut_runs (PartSearch *search)
{
  g_autoptr (GArray) photos = sw_stops_photos_of (search->work, search->camera, FALSE, 0);
  g_autoptr (GArray) order = g_array_copy (photos);
  PartRun *run = NULL;

  g_array_sort (order, compare_order);
  for (guint i = 0; i < order->len; i++)
    {
      SwModelPhoto photo = g_array_index (order, SwModelPhoto, i);
      gint64 gap = i > 0 ? photo.t_us - g_array_index (order, SwModelPhoto, i - 1).t_us : 0;

      if (run == NULL || gap < -BACK_US || gap > PART_ON_US)
        {
          run = run_new ();
          run->leapt = ABS (gap) > PART_ON_US;
          g_ptr_array_add (search->runs, run);
        }
      g_array_append_val (run->photos, photo);
    }
  if (search->runs->len > MAX_RUNS)
    {
      g_ptr_array_set_size (search->runs, 0);
      run = run_new ();
      g_array_append_vals (run->photos, photos->data, photos->len);
      g_ptr_array_add (search->runs, run);
    }
  for (guint k = 0; k < search->runs->len; k++)
    {
      run = sw_part_run (search, k);
      g_array_sort (run->photos, sw_stops_compare_photos);
      sw_clock_gather_photos (search->work, run->photos, &run->own);
      run->tables = sw_clock_tables_new (&run->own.evidence);
    }
}

/* --- pieces --- */

static int
compare_pieces (gconstpointer a, gconstpointer b)
{
  const PartPiece *x = a, *y = b;

  if (x->t_us != y->t_us)
    return x->t_us < y->t_us ? -1 : 1;
  if (x->kind != y->kind)
    return x->kind < y->kind ? -1 : 1;
  return (x->index > y->index) - (x->index < y->index);
}

/* A face without a day gets the one nearest to its camera's clock. */
static gint64
face_time (const SwClockAnchor *face)
{
  double away_s = (double)(face->true_us - face->clock_us) / 1e6;

  return face->dateless
             ? face->clock_us + (gint64)llrint (remainder (away_s, DAY_S) * SW_US_PER_SECOND)
             : face->true_us;
}

static void
add_pieces (PartSearch *search)
{
  const SwWalk *walk = search->work->walk;
  gsize stride = 1 + walk->n_notes / PIECES_ENOUGH;

  for (gsize k = 0; k < walk->n_notes; k += stride)
    if (walk->notes[k].item >= 0)
      {
        PartPiece piece = { walk->notes[k].time_us, PIECE_NOTE, k, 0 };

        g_array_append_val (search->pieces, piece);
      }
  for (guint r = 0; r < search->runs->len; r++)
    {
      const SwClockEvidence *evidence = &sw_part_run (search, r)->own.evidence;

      for (gsize k = 0; k < evidence->n_faces; k++)
        {
          PartPiece piece = { face_time (&evidence->faces[k]), PIECE_FACE, k, r };

          g_array_append_val (search->pieces, piece);
        }
      for (gsize k = 0; k < evidence->n_fixes; k++)
        {
          PartPiece piece = { evidence->fixes[k].true_us, PIECE_FIX, k, r };

          g_array_append_val (search->pieces, piece);
        }
    }
  g_array_sort (search->pieces, compare_pieces);
}

/* --- shifts to choose from --- */

static void
add_shift (PartSearch *search, double shift_s)
{
  for (gsize k = 0; k < search->n_shifts; k++)
    if (fabs (search->shifts[k] - shift_s) < PART_SAME_S)
      return;
  if (search->n_shifts < PART_MAX_SHIFTS)
    search->shifts[search->n_shifts++] = shift_s;
}

static void
add_modes (PartSearch *search, const SwClockEvidence *evidence, gsize most)
{
  SwClockMode modes[SW_CLOCK_MODES];
  gsize n = sw_clock_modes (evidence, modes, most + 1);

  for (gsize k = 0; k < MIN (n, most); k++)
    if (k == 0 || sw_clock_mode_share (modes, n, k) > 0.02)
      add_shift (search, modes[k].shift_s);
}

/* What the pieces [from, upto) say of a run alone. */
static void
add_modes_between (PartSearch *search, const PartRun *run, guint from, guint upto)
{
  SwClockEvidence evidence = run->own.evidence;
  g_autoptr (GArray) notes = g_array_new (FALSE, FALSE, sizeof (SwWalkNote));
  g_autoptr (GArray) faces = g_array_new (FALSE, FALSE, sizeof (SwClockAnchor));
  g_autoptr (GArray) fixes = g_array_new (FALSE, FALSE, sizeof (SwClockAnchor));

  for (guint k = from; k < upto; k++)
    {
      const PartPiece *piece = &g_array_index (search->pieces, PartPiece, k);

      if (piece->kind == PIECE_NOTE)
        g_array_append_val (notes, search->work->walk->notes[piece->index]);
      else if (sw_part_run (search, piece->run) == run && piece->kind == PIECE_FACE)
        g_array_append_val (faces, evidence.faces[piece->index]);
      else if (sw_part_run (search, piece->run) == run)
        g_array_append_val (fixes, evidence.fixes[piece->index]);
    }
  evidence.notes = (const SwWalkNote *)(void *)notes->data;
  evidence.n_notes = notes->len;
  evidence.faces = (const SwClockAnchor *)(void *)faces->data;
  evidence.n_faces = faces->len;
  evidence.fixes = (const SwClockAnchor *)(void *)fixes->data;
  evidence.n_fixes = fixes->len;
  add_modes (search, &evidence, 2);
}

/* A run comes after the one before it: what the notes written since then say of it. */
static void
add_modes_after (PartSearch *search, guint r)
{
  const PartRun *run = sw_part_run (search, r), *before = sw_part_run (search, r - 1);
  SwClockMode mode;
  gint64 end;
  guint from = 0;

  if (sw_clock_modes (&before->own.evidence, &mode, 1) == 0)
    return;
  end = g_array_index (before->photos, SwModelPhoto, before->photos->len - 1).t_us
        + (gint64)llrint (mode.shift_s * 1e6);
  while (from < search->pieces->len && g_array_index (search->pieces, PartPiece, from).t_us < end)
    from++;
  if (from + PART_LEAST_PIECES <= search->pieces->len)
    add_modes_between (search, run, from, search->pieces->len);
}

static void
find_shifts (PartSearch *search)
{
  const SwWalk *walk = search->work->walk;
  guint n = search->pieces->len;
  gsize found;

  for (guint r = 0; r < search->runs->len; r++)
    {
      add_modes (search, &sw_part_run (search, r)->own.evidence, 2);
      for (guint third = 0; third < 3 && n >= THIRDS_FROM; third++)
        add_modes_between (search, sw_part_run (search, r), n * third / 3, n * (third + 1) / 3);
    }
  for (guint r = 1; r < search->runs->len; r++)
    add_modes_after (search, r);
  found = search->n_shifts;
  for (gsize k = 0; k < MIN (found, 2); k++)
    for (int side = -1; side <= 1; side += 2)
      add_shift (search, search->shifts[k] + side * SW_CLOCK_HOUR_S);
  for (gsize z = 0; z < walk->n_zone_steps; z++)
    for (gsize k = 0; k < MIN (found, 2); k++)
      {
        add_shift (search, search->shifts[k] + walk->zone_steps[z].step_s);
        add_shift (search, search->shifts[k] - walk->zone_steps[z].step_s);
      }
}

/* --- all of it --- */

int
sw_part_half_hours (double step_s)
{
  double half_hours = rint (step_s / (SW_CLOCK_HOUR_S / 2));

  return fabs (half_hours) <= HALF_HOURS_MOST
                 && fabs (step_s - half_hours * SW_CLOCK_HOUR_S / 2) < PART_SAME_S
             ? (int)half_hours
             : 0;
}

gboolean
sw_part_search_begin (PartSearch *search, SwStopsWork *work, int camera)
{
  search->work = work;
  search->camera = camera;
  search->runs = g_ptr_array_new_with_free_func (run_free);
  search->pieces = g_array_new (FALSE, FALSE, sizeof (PartPiece));
  cut_runs (search);
  if (search->runs->len == 0)
    return FALSE;
  add_pieces (search);
  if (search->pieces->len < 2)
    return FALSE;
  find_shifts (search);
  return search->n_shifts >= 2;
}

void
sw_part_search_clear (PartSearch *search)
{
  g_clear_pointer (&search->runs, g_ptr_array_unref);
  g_clear_pointer (&search->pieces, g_array_unref);
}
