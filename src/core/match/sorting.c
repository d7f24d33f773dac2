/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a person's word to rows: which photos go to which item, where stops are cut and joined. The
 * stored stops follow at once, roughly; the pairing puts them right. Must not know SQL, nor how a
 * proposal comes about. */
#include "core/match/sorting-private.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/items.h"
#include "core/catalogue/places.h"
#include "core/catalogue/receipts.h"
#include "core/match/pairing.h"

#include <string.h>

/* ---- the stored stops ---- */

static const gint64 *
numbers_of (const GArray *photos)
{
  return (const gint64 *)(const void *)photos->data;
}

static gboolean
refuse_gone (GError **error)
{
  g_set_error_literal (
      error, SW_ERROR, SW_ERROR_NOT_FOUND,
      _ ("That stop is no longer there: the photos were sorted anew meanwhile. Look "
         "again and decide on what is shown now."));
  return FALSE;
}

int
sw_sorting_find_stop (const GPtrArray *stops, gint64 key, GError **error)
{
  for (guint k = 0; k < stops->len; k++)
    if (sw_stop_key (g_ptr_array_index (stops, k)) == key)
      return (int)k;
  refuse_gone (error);
  return -1;
}

/* The stop that holds the photo, and where in it. */
static int
find_photo (const GPtrArray *stops, gint64 photo, guint *out_at, GError **error)
{
  for (guint k = 0; k < stops->len; k++)
    {
      const SwStopRecord *stop = g_ptr_array_index (stops, k);

      for (guint i = 0; i < stop->photos->len; i++)
        if (sw_sorting_photo_at (stop, i) == photo)
          {
            *out_at = i;
            return (int)k;
          }
    }
  refuse_gone (error);
  return -1;
}

/* A run of neighbouring photos of one stop, in its order whatever theirs. */
typedef struct
{
  int stop;
  guint from, count;
} Run;

static gboolean
find_run (const GPtrArray *stops, const gint64 *photos, gsize n, Run *out_run, GError **error)
{
  guint low = G_MAXUINT, high = 0;

  *out_run = (Run){ -1, 0, 0 };
  for (gsize k = 0; k < n; k++)
    {
      guint at = 0;
      int stop = find_photo (stops, photos[k], &at, error);

      if (stop < 0)
        return FALSE;
      if (out_run->stop >= 0 && stop != out_run->stop)
        {
          g_set_error_literal (error, SW_ERROR, SW_ERROR_REFUSED,
                               _ ("Photos of two stops cannot be taken out together; take those of "
                                  "one stop at a time."));
          return FALSE;
        }
      out_run->stop = stop;
      low = MIN (low, at);
      high = MAX (high, at);
    }
  if (n == 0 || high - low + 1 != n)
    {
      g_set_error_literal (error, SW_ERROR, SW_ERROR_REFUSED,
                           _ ("The photos do not follow each other; take a run without holes."));
      return FALSE;
    }
  out_run->from = low;
  out_run->count = high - low + 1;
  return TRUE;
}

static gint64
last_photo (const SwStopRecord *stop)
{
  return sw_sorting_photo_at (stop, stop->photos->len - 1);
}

/* What is said of the gap before stop k. */
static gboolean
say_before_stop (SwCatalogue *catalogue, const GPtrArray *stops, int k, SwCutKind cut,
                 GError **error)
{
  gint64 before = k > 0 ? last_photo (sw_sorting_stop_at (stops, k - 1)) : 0;

  return sw_cut_set (catalogue, before, sw_stop_key (sw_sorting_stop_at (stops, k)), cut, error);
}

/* And of the gap before photo i of a stop, not its first. */
static gboolean
say_within (SwCatalogue *catalogue, const SwStopRecord *stop, guint i, SwCutKind cut,
            GError **error)
{
  return sw_cut_set (catalogue, sw_sorting_photo_at (stop, i - 1), sw_sorting_photo_at (stop, i),
                     cut, error);
}

/* Both ends of the stop hold from now on. */
gboolean
sw_sorting_fence (SwCatalogue *catalogue, const GPtrArray *stops, int k, GError **error)
{
  return say_before_stop (catalogue, stops, k, SW_CUT_APART, error)
         && (k + 1 >= (int)stops->len
             || say_before_stop (catalogue, stops, k + 1, SW_CUT_APART, error));
}

/* Fences those of the photos that are whole stops. */
static gboolean
fence_whole (SwCatalogue *catalogue, gint64 trip, const gint64 *photos, gsize n, GError **error)
{
  g_autoptr (GPtrArray) stops = sw_proposal_list (catalogue, trip, error);
  g_autoptr (GHashTable) set = g_hash_table_new (g_int64_hash, g_int64_equal);

  if (stops == NULL)
    return FALSE;
  for (gsize k = 0; k < n; k++)
    g_hash_table_add (set, (gpointer)&photos[k]);
  for (guint k = 0; k < stops->len; k++)
    {
      const SwStopRecord *stop = g_ptr_array_index (stops, k);
      gboolean whole = TRUE;

      for (guint i = 0; i < stop->photos->len && whole; i++)
        whole = g_hash_table_contains (set, &g_array_index (stop->photos, gint64, i));
      if (whole && !sw_sorting_fence (catalogue, stops, (int)k, error))
        return FALSE;
    }
  return TRUE;
}

/* ---- cutting and joining ---- */

static char *
new_name (const SwStopRecord *stop)
{
  const char *last = stop->place_path != NULL ? strrchr (stop->place_path, '>') : NULL;

  if (stop->place_path == NULL)
    return g_strdup ("thing 1");
  return g_strdup_printf (_ ("thing 1 in %s"), last != NULL ? last + 2 : stop->place_path);
}

/* Photos [from, from + count) of the stop as a stop that nothing is known of yet. */
static SwStopRecord *
part_of (const SwStopRecord *stop, guint from, guint count)
{
  SwStopRecord *part = sw_stop_record_new ();

  part->trip = stop->trip;
  part->timed = stop->timed;
  part->start_us = stop->start_us + (gint64)from; /* behind it, until it is proposed */
  part->is_new = TRUE;
  part->name = new_name (stop);
  part->place = stop->place;
  part->probability = 0.5;
  part->band = g_strdup (sw_band_word (SW_BAND_UNKNOWN));
  part->reason = g_strdup (_ ("cut off by you"));
  g_array_append_vals (part->photos, &g_array_index (stop->photos, gint64, from), count);
  return part;
}

static gboolean
store_stops (SwCatalogue *catalogue, gint64 trip, GPtrArray *stops, GError **error)
{
  gboolean changed = FALSE;

  return sw_proposal_replace (catalogue, trip, stops, &changed, error);
}

/* The run becomes a stop, and so does what is behind it. */
static void
part_stop (GPtrArray *stops, const Run *run)
{
  SwStopRecord *stop = sw_sorting_stop_at (stops, run->stop);
  guint end = run->from + run->count;

  if (end < stop->photos->len)
    g_ptr_array_add (stops, part_of (stop, end, stop->photos->len - end));
  if (run->from > 0)
    g_ptr_array_add (stops, part_of (stop, run->from, run->count));
  g_array_set_size (stop->photos, run->from > 0 ? run->from : end);
}

static gboolean
cut_run (SwCatalogue *catalogue, const SwStopRecord *stop, const Run *run, GError **error)
{
  guint end = run->from + run->count;

  if (run->from > 0 && !say_within (catalogue, stop, run->from, SW_CUT_APART, error))
    return FALSE;
  for (guint i = run->from + 1; i < end; i++)
    if (!say_within (catalogue, stop, i, SW_CUT_JOIN, error))
      return FALSE;
  return end >= stop->photos->len || say_within (catalogue, stop, end, SW_CUT_APART, error);
}

static gboolean
tell_photo (SwAct *act, gint64 photo, const char *verb, const char *sentence, GError **error)
{
  return sw_act_tell (act, SW_SUBJECT_PHOTO, photo, verb, NULL, sentence, error)
         && sw_act_commit (act, sentence, error);
}

gboolean
sw_sorting_cut (SwCatalogue *catalogue, gint64 trip, gint64 photo, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  Run run;
  guint at = 0;

  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (GPtrArray) stops = sw_proposal_list (catalogue, trip, error);
  if (stops == NULL || (run.stop = find_photo (stops, photo, &at, error)) < 0)
    return FALSE;
  if (at == 0)
    {
      g_set_error_literal (
          error, SW_ERROR, SW_ERROR_REFUSED,
          _ ("A stop begins with this photo already; go to the one that the new stop "
             "begins with."));
      return FALSE;
    }
  run.from = at;
  run.count = sw_sorting_stop_at (stops, run.stop)->photos->len - at;
  g_autofree char *sentence = g_strdup_printf (_ ("Stop %d cut in two"), run.stop + 1);
  if (!say_within (catalogue, sw_sorting_stop_at (stops, run.stop), at, SW_CUT_APART, error))
    return FALSE;
  part_stop (stops, &run);
  return store_stops (catalogue, trip, stops, error)
         && tell_photo (&act, photo, "photo.cut", sentence, error);
}

/* Where the run lies at an end of its stop that end holds too: what is thought later joins it to
 * nothing beside it. */
static gboolean
fence_apart (SwCatalogue *catalogue, const GPtrArray *stops, const Run *run, GError **error)
{
  gboolean first = run->from == 0;
  gboolean last = run->from + run->count == sw_sorting_stop_at (stops, run->stop)->photos->len
                  && run->stop + 1 < (int)stops->len;

  return (!first || say_before_stop (catalogue, stops, run->stop, SW_CUT_APART, error))
         && (!last || say_before_stop (catalogue, stops, run->stop + 1, SW_CUT_APART, error));
}

gboolean
sw_sorting_set_apart (SwCatalogue *catalogue, gint64 trip, const gint64 *photos, gsize n,
                      GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  Run run;

  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (GPtrArray) stops = sw_proposal_list (catalogue, trip, error);
  if (stops == NULL || !find_run (stops, photos, n, &run, error))
    return FALSE;
  const SwStopRecord *stop = sw_sorting_stop_at (stops, run.stop);
  gint64 first = sw_sorting_photo_at (stop, run.from);
  if (run.count == stop->photos->len)
    {
      g_set_error_literal (error, SW_ERROR, SW_ERROR_REFUSED,
                           _ ("These photos are a stop of their own already."));
      return FALSE;
    }
  g_autofree char *sentence
      = sw_text_counted (run.count, "%u photo of stop %d set apart",
                         "%u photos of stop %d set apart", run.count, run.stop + 1);
  if (!cut_run (catalogue, stop, &run, error) || !fence_apart (catalogue, stops, &run, error))
    return FALSE;
  part_stop (stops, &run);
  return store_stops (catalogue, trip, stops, error)
         && tell_photo (&act, first, "photo.cut", sentence, error);
}

/* What a stop is decided as: the last photo's word, since that is the one the next stop joins. */
static gint64
decision_of (const SwStopRecord *stop)
{
  gint64 decided = SW_STOP_OPEN;

  for (guint i = 0; i < stop->decided->len; i++)
    if (g_array_index (stop->decided, gint64, i) != SW_STOP_OPEN)
      decided = g_array_index (stop->decided, gint64, i);
  return decided;
}

/* The photos get what the stop was decided as. */
static gboolean
give_decision (SwCatalogue *catalogue, const SwStopRecord *like, const gint64 *photos, guint n,
               GError **error)
{
  gint64 item = decision_of (like);

  if (item != SW_STOP_NO_ITEM)
    return sw_item_assign (catalogue, item, photos, n, FALSE, error);
  return sw_item_assign_none (catalogue, photos, n, like->no_item_kind, error);
}

static gboolean
share_decision (SwCatalogue *catalogue, const SwStopRecord *before, const SwStopRecord *stop,
                GError **error)
{
  if (before->n_open == 0)
    return give_decision (catalogue, before, numbers_of (stop->photos), stop->photos->len, error);
  if (stop->n_open == 0)
    return give_decision (catalogue, stop, numbers_of (before->photos), before->photos->len, error);
  return TRUE;
}

gboolean
sw_sorting_join (SwCatalogue *catalogue, gint64 trip, gint64 key, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  int k;

  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (GPtrArray) stops = sw_proposal_list (catalogue, trip, error);
  if (stops == NULL || (k = sw_sorting_find_stop (stops, key, error)) < 0)
    return FALSE;
  if (k == 0)
    {
      g_set_error_literal (error, SW_ERROR, SW_ERROR_REFUSED,
                           _ ("This is the first stop: there is none before it to join."));
      return FALSE;
    }
  SwStopRecord *before = sw_sorting_stop_at (stops, k - 1), *stop = sw_sorting_stop_at (stops, k);
  g_autofree char *sentence = g_strdup_printf (_ ("Stops %d and %d joined"), k, k + 1);
  if (!say_before_stop (catalogue, stops, k, SW_CUT_JOIN, error)
      || !share_decision (catalogue, before, stop, error))
    return FALSE;
  g_array_append_vals (before->photos, stop->photos->data, stop->photos->len);
  g_ptr_array_remove_index (stops, (guint)k);
  return store_stops (catalogue, trip, stops, error)
         && tell_photo (&act, key, "photo.cut", sentence, error);
}

/* ---- moving ---- */

/* The stored stops as they will be: the run leaves its stop and stands at an end of the other. */
static void
carry_run (GPtrArray *stops, const Run *run, int to)
{
  SwStopRecord *from = sw_sorting_stop_at (stops, run->stop),
               *target = sw_sorting_stop_at (stops, to);
  const gint64 *moved = &g_array_index (from->photos, gint64, run->from);

  if (to > run->stop)
    {
      target->timed = from->timed;
      target->start_us = MIN (target->start_us, from->start_us + (gint64)run->from);
      g_array_prepend_vals (target->photos, moved, run->count);
    }
  else
    g_array_append_vals (target->photos, moved, run->count);
  g_array_remove_range (from->photos, run->from, run->count);
  if (from->photos->len == 0)
    g_ptr_array_remove_index (stops, (guint)run->stop);
}

/* Whether the run lies at the end of its stop that faces the other, with nothing between. */
static gboolean
run_meets (const GPtrArray *stops, const Run *run, int to)
{
  return (to == run->stop - 1 && run->from == 0)
         || (to == run->stop + 1
             && run->from + run->count == sw_sorting_stop_at (stops, run->stop)->photos->len);
}

/* A neighbour that is open: only the gaps are said anew, and the joined stop is still to be
 * decided. */
static gboolean
move_open (SwCatalogue *catalogue, const GPtrArray *stops, const Run *run, int to, GError **error)
{
  const SwStopRecord *from = sw_sorting_stop_at (stops, run->stop);

  if (!cut_run (catalogue, from, run, error))
    return FALSE;
  return say_before_stop (catalogue, stops, MAX (to, run->stop), SW_CUT_JOIN, error);
}

/* What lies farther off or is decided: it holds, and the photos get the same. */
static gboolean
move_decided (SwCatalogue *catalogue, gint64 trip, const SwStopRecord *target, const gint64 *photos,
              gsize n, GError **error)
{
  gint64 item = 0;

  if (target->n_open == 0)
    return give_decision (catalogue, target, photos, (guint)n, error);
  if (!sw_sorting_accept (catalogue, trip, sw_stop_key (target), &item, error))
    return FALSE;
  return sw_item_assign (catalogue, item, photos, n, FALSE, error);
}

gboolean
sw_sorting_move (SwCatalogue *catalogue, gint64 trip, const gint64 *photos, gsize n, gint64 key,
                 GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  Run run;
  int to;

  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (GPtrArray) stops = sw_proposal_list (catalogue, trip, error);
  if (stops == NULL || (to = sw_sorting_find_stop (stops, key, error)) < 0
      || !find_run (stops, photos, n, &run, error))
    return FALSE;
  if (run.stop == to)
    return TRUE;
  const SwStopRecord *target = sw_sorting_stop_at (stops, to),
                     *from = sw_sorting_stop_at (stops, run.stop);
  gboolean stays_open = target->n_open > 0 && from->n_open > 0 && run_meets (stops, &run, to);
  gint64 first = sw_sorting_photo_at (from, run.from);
  g_autofree char *sentence = sw_text_counted (run.count, "%u photo moved from stop %d to stop %d",
                                               "%u photos moved from stop %d to stop %d", run.count,
                                               run.stop + 1, to + 1);
  if (!(stays_open ? move_open (catalogue, stops, &run, to, error)
                   : move_decided (catalogue, trip, target, photos, n, error)))
    return FALSE;
  if (stays_open)
    {
      carry_run (stops, &run, to);
      if (!store_stops (catalogue, trip, stops, error))
        return FALSE;
    }
  return tell_photo (&act, first, "photo.cut", sentence, error);
}

/* ---- giving ---- */

/* A part of a stop that shows something else says nothing of the rest of it. */
static gboolean
fence_part (SwCatalogue *catalogue, gint64 trip, const gint64 *photos, gsize n, GError **error)
{
  g_autoptr (GPtrArray) stops = sw_proposal_list (catalogue, trip, error);
  Run run;

  if (stops == NULL)
    return FALSE;
  if (!find_run (stops, photos, n, &run, NULL)
      || run.count == sw_sorting_stop_at (stops, run.stop)->photos->len)
    return TRUE;
  return cut_run (catalogue, sw_sorting_stop_at (stops, run.stop), &run, error);
}

gboolean
sw_sorting_give (SwCatalogue *catalogue, gint64 trip, gint64 item, const gint64 *photos, gsize n,
                 GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin (&act, catalogue, error)
      || !sw_item_assign (catalogue, item, photos, n, FALSE, error)
      || !fence_whole (catalogue, trip, photos, n, error)
      || !fence_part (catalogue, trip, photos, n, error))
    return FALSE;
  g_autoptr (SwItem) target = sw_item_get (catalogue, item, error);
  if (target == NULL)
    return FALSE;
  g_autofree char *sentence = sw_text_counted ((gint64)n, "%s: %zu photo given to it",
                                               "%s: %zu photos given to it", target->name, n);
  return sw_act_commit (&act, sentence, error);
}

gboolean
sw_sorting_give_another (SwCatalogue *catalogue, gint64 trip, gint64 item, const gint64 *photos,
                         gsize n, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) target = sw_item_get (catalogue, item, error);
  if (target == NULL)
    return FALSE;
  gint64 count = target->count + 1;
  SwItemChange change = { .count = &count };
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s: one more, now %" PRId64), target->name, count);
  return sw_item_change (catalogue, item, &change, error)
         && sw_sorting_give (catalogue, trip, item, photos, n, error)
         && sw_act_commit (&act, sentence, error);
}

/* The stop that holds the first of the photos, for place and neutral name. */
static const SwStopRecord *
stop_of_first (const GPtrArray *stops, const gint64 *photos, gsize n, GError **error)
{
  guint at = 0;
  int k = n > 0 ? find_photo (stops, photos[0], &at, error) : -1;

  return k >= 0 ? sw_sorting_stop_at (stops, k) : NULL;
}

/* Without a name: as accepting it would make it. */
static gboolean
add_item (SwCatalogue *catalogue, const SwStopRecord *stop, const char *name, gint64 place,
          gint64 *out_item, GError **error)
{
  SwItemNew item = { .name = name, .trip = stop->trip, .place = place };
  g_autoptr (SwStopRecord) unnamed = NULL;

  if (name != NULL)
    return (item.place != 0
            || sw_place_ensure (catalogue, SW_PLACE_UNKNOWN, &item.place, NULL, error))
           && sw_item_add (catalogue, &item, out_item, error);
  unnamed = part_of (stop, 0, 1);
  g_clear_pointer (&unnamed->name, g_free);
  unnamed->name = stop->is_new && stop->name != NULL ? g_strdup (stop->name) : new_name (stop);
  unnamed->place = place;
  return sw_sorting_make_item (catalogue, unnamed, out_item, error);
}

gboolean
sw_sorting_give_new (SwCatalogue *catalogue, gint64 trip, const char *name, gint64 place,
                     const gint64 *photos, gsize n, gint64 *out_item, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *trimmed = name != NULL ? g_strstrip (g_strdup (name)) : NULL;
  gint64 item = 0;

  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (GPtrArray) stops = sw_proposal_list (catalogue, trip, error);
  const SwStopRecord *stop = stops != NULL ? stop_of_first (stops, photos, n, error) : NULL;
  if (stop == NULL)
    return FALSE;
  if (trimmed != NULL && *trimmed == '\0')
    g_clear_pointer (&trimmed, g_free);
  if (!add_item (catalogue, stop, trimmed, place != 0 ? place : stop->place, &item, error)
      || !sw_sorting_give (catalogue, trip, item, photos, n, error))
    return FALSE;
  g_autoptr (SwItem) made = sw_item_get (catalogue, item, error);
  if (made == NULL)
    return FALSE;
  g_autofree char *sentence = sw_text_counted ((gint64)n, "%s: new, with %zu photo",
                                               "%s: new, with %zu photos", made->name, n);
  if (!sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_item != NULL)
    *out_item = item;
  return TRUE;
}

gboolean
sw_sorting_no_item (SwCatalogue *catalogue, gint64 trip, const char *kind, const gint64 *photos,
                    gsize n, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin (&act, catalogue, error)
      || !sw_item_assign_none (catalogue, photos, n, kind, error)
      || !fence_whole (catalogue, trip, photos, n, error))
    return FALSE;
  g_autofree char *sentence
      = sw_text_counted ((gint64)n, "%zu photo: no item%s%s", "%zu photos: no item%s%s", n,
                         *kind != '\0' ? ", " : "", *kind != '\0' ? _ (kind) : "");
  return sw_act_commit (&act, sentence, error);
}

gboolean
sw_sorting_receipt (SwCatalogue *catalogue, gint64 trip, const gint64 *photos, gsize n,
                    SwMoney amount, const char *remark, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence = sw_receipt_sentence (catalogue, amount, remark);

  return sw_act_begin (&act, catalogue, error)
         && sw_receipt_enter (catalogue, trip, photos, n, amount, remark, error)
         && sw_sorting_no_item (catalogue, trip, "receipt", photos, n, error)
         && sw_act_commit (&act, sentence, error);
}
