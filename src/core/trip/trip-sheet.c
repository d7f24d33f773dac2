/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/trip/trip-sheet.h"
#include "core/base/language.h"

#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/place-figures.h"
#include "core/catalogue/places.h"
#include "core/catalogue/questions.h"
#include "core/trip/hand-overs.h"
#include "core/trip/held.h"

static const struct
{
  const char *word, *heading;
} parts[] = {
#define AS_ROW(tag, word, heading) { word, heading },
  SW_TRIP_PARTS (AS_ROW)
#undef AS_ROW
};

const char *
sw_trip_part_heading (SwTripPart part)
{
  return parts[part].heading;
}

const char *
sw_trip_part_word (SwTripPart part)
{
  return parts[part].word;
}

static void
line_free (gpointer data)
{
  SwTripLine *line = data;

  g_free (line->what);
  g_free (line->place);
  g_free (line->detail);
  g_free (line->caution);
  g_free (line);
}

void
sw_trip_sheet_free (SwTripSheet *sheet)
{
  if (sheet == NULL)
    return;
  g_clear_pointer (&sheet->lines, g_ptr_array_unref);
  sw_trip_free (sheet->trip);
  g_clear_pointer (&sheet->held, g_ptr_array_unref);
  sw_load_sheet_free (sheet->load);
  sw_walk_free (sheet->walk);
  sw_packing_free (sheet->pack);
  sw_last_day_free (sheet->last);
  sw_scrap_pile_clear (&sheet->pile);
  g_free (sheet);
}

static SwTripLine *
add_line (SwTripSheet *sheet, SwTripPart part, gint64 subject, const char *what, const char *place)
{
  SwTripLine *line = g_new0 (SwTripLine, 1);

  line->part = part;
  line->subject = subject;
  line->what = g_strdup (what);
  line->place = g_strdup (place);
  g_ptr_array_add (sheet->lines, line);
  line->number = (int)sheet->lines->len;
  return line;
}

/* "12 x Crates", "4 of 12 Crates" */
static char *
thing_words (const SwItem *item, gint64 count)
{
  return count < item->count
             ? g_strdup_printf (_ ("%" PRId64 " of %" PRId64 " %s"), count, item->count, item->name)
         : count > 1 ? g_strdup_printf ("%" PRId64 " x %s", count, item->name)
                     : g_strdup (item->name);
}

/* The item's dangers with their usual cautions; the line says nothing where there is none. */
static gboolean
add_caution (SwTripLine *line, SwCatalogue *catalogue, const SwItem *item, GError **error)
{
  g_autoptr (GPtrArray) facts = NULL;
  g_autoptr (GString) words = NULL;

  if (item->n_dangers == 0)
    return TRUE;
  facts = sw_fact_list (catalogue, item->id, error);
  if (facts == NULL)
    return FALSE;
  words = g_string_new (NULL);
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      const SwDanger *danger = sw_danger_of_fact (fact);

      if (danger != NULL)
        g_string_append_printf (words, "%s%s: %s", words->len > 0 ? " " : "", _ (danger->word),
                                _ (danger->caution));
    }
  if (words->len > 0)
    line->caution = g_strdup (words->str);
  return TRUE;
}

/* One more of a list of remarks, each whole in itself. */
static void
add_remark (GString *detail, const char *remark)
{
  if (detail->len > 0)
    g_string_append (detail, ", ");
  g_string_append (detail, remark);
}

/* How it is lifted, and its mass where one is known. */
static void
add_handling (GString *detail, const SwItem *item)
{
  g_autofree char *mass = item->has_mass ? sw_mass_to_rough_text (item->mass) : NULL;

  if (mass != NULL)
    add_remark (detail, mass);
  if (item->size == SW_SIZE_TWO_PEOPLE || item->size == SW_SIZE_MACHINE)
    add_remark (detail, item->size == SW_SIZE_MACHINE ? _ ("machine needed") : _ ("two people"));
}

static char *
end_detail (GString *detail)
{
  gboolean any = detail->len > 0;
  char *text = g_string_free (detail, !any);

  return any ? text : NULL;
}

/* ---- the parts ---- */

static char *
hand_over_detail (const SwHandOver *hand_over, const SwHandOverThing *thing, SwCurrency currency)
{
  gboolean first = thing == g_ptr_array_index (hand_over->things, 0);
  GString *detail
      = g_string_new (hand_over->buyer != NULL ? hand_over->buyer : _ ("buyer not named"));

  if (first && hand_over->due.minor > 0)
    {
      g_autofree char *due = sw_money_to_person (hand_over->due, currency);
      g_autofree char *remark = g_strdup_printf (_ ("%s due"), due);
      add_remark (detail, remark);
    }
  if (first && hand_over->has_deadline)
    {
      g_autofree char *day = sw_day_to_person (hand_over->deadline);
      g_autofree char *remark = g_strdup_printf (
          hand_over->before_trip ? _ ("to be fetched by %s (before the trip: agree on a day)")
                                 : _ ("to be fetched by %s"),
          day);
      add_remark (detail, remark);
    }
  if (thing->delivered)
    add_remark (detail, _ ("to be brought to the buyer"));
  add_handling (detail, thing->item);
  return g_string_free (detail, FALSE);
}

static gboolean
add_hand_overs (SwTripSheet *sheet, SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) list = sw_hand_over_list (catalogue, sheet->trip->first, error);

  if (list == NULL)
    return FALSE;
  for (guint h = 0; h < list->len; h++)
    {
      const SwHandOver *hand_over = g_ptr_array_index (list, h);

      if (!sw_money_add (sheet->due, hand_over->due, &sheet->due, error))
        return FALSE;
      for (guint i = 0; i < hand_over->things->len; i++)
        {
          const SwHandOverThing *thing = g_ptr_array_index (hand_over->things, i);
          g_autofree char *what = thing_words (thing->item, thing->item->count);
          SwTripLine *line
              = add_line (sheet, SW_TRIP_HAND_OVER, thing->deal, what, thing->item->place_path);

          line->item = thing->item->id;
          line->at = thing->item->place;
          line->detail = hand_over_detail (hand_over, thing, sw_catalogue_currency (catalogue));
          if (!add_caution (line, catalogue, thing->item, error))
            return FALSE;
        }
    }
  return TRUE;
}

static char *
load_detail (const SwLoadThing *thing, const char *mass)
{
  gboolean each = thing->item->count > 1, known = thing->mass_basis == SW_BASIS_KNOWN;
  g_autofree char *heavy = each
                               ? g_strdup_printf (known ? _ ("%s each") : _ ("%s each or so"), mass)
                               : g_strdup_printf (known ? "%s" : _ ("%s or so"), mass);
  GString *detail = g_string_new (heavy);

  if (thing->heavy)
    add_remark (detail, _ ("two people or a machine"));
  return g_string_free (detail, FALSE);
}

static gboolean
add_load (SwTripSheet *sheet, SwCatalogue *catalogue, GError **error)
{
  for (guint i = 0; i < sheet->load->things->len; i++)
    {
      const SwLoadThing *thing = g_ptr_array_index (sheet->load->things, i);
      g_autofree char *what = NULL, *mass = NULL;
      SwTripLine *line;

      if (sheet->load->has_van && thing->pieces == 0)
        continue;
      what = thing_words (thing->item, sheet->load->has_van ? thing->pieces : thing->item->count);
      mass = sw_mass_to_rough_text (thing->each);
      line = add_line (sheet, SW_TRIP_LOAD, thing->item->id, what, thing->item->place_path);
      line->item = thing->item->id;
      line->at = thing->item->place;
      line->pieces = thing->pieces;
      line->detail = load_detail (thing, mass);
      if (!add_caution (line, catalogue, thing->item, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
add_scrap (SwTripSheet *sheet, SwCatalogue *catalogue, GError **error)
{
  SwState for_scrap = SW_STATE_FOR_SCRAP;
  SwItemFilter filter = { .state = &for_scrap, .order = SW_ITEMS_BY_PLACE };
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, &filter, error);

  if (items == NULL)
    return FALSE;
  for (guint i = 0; i < items->len; i++)
    {
      const SwItem *item = g_ptr_array_index (items, i);
      g_autofree char *what = thing_words (item, item->count);
      SwTripLine *line = add_line (sheet, SW_TRIP_SCRAP, item->id, what, item->place_path);
      GString *detail = g_string_new (item->scrap_class);

      add_handling (detail, item);
      line->item = item->id;
      line->at = item->place;
      line->detail = end_detail (detail);
      if (item->never_offer)
        line->caution
            = g_strdup (_ ("Not to be moved or cut before somebody licensed has cleared it; "
                           "ask the yard whether it takes it."));
      else if (!add_caution (line, catalogue, item, error))
        return FALSE;
    }
  return TRUE;
}

static char *
job_detail (const SwJob *job)
{
  g_autofree char *what = sw_job_words (job);
  g_autofree char *with = job->tools != NULL && *job->tools != '\0'
                              ? g_strdup_printf (_ ("%s (with %s)"), what, job->tools)
                              : g_strdup (what);
  GString *detail = g_string_new (with);
  g_autofree char *people = sw_text_count (job->hands, "%d person", "%d people");

  if (job->hands > 1)
    add_remark (detail, people);
  return g_string_free (detail, FALSE);
}

/* Jobs of one place: its own, then those of things that stand there. */
static gboolean
add_jobs_in (SwTripSheet *sheet, SwCatalogue *catalogue, const GPtrArray *jobs,
             const SwPlace *place, GError **error)
{
  for (guint i = 0; i < jobs->len; i++)
    {
      const SwJob *job = g_ptr_array_index (jobs, i);
      g_autoptr (SwItem) item = NULL;
      SwTripLine *line;

      if (job->done || (job->item == 0 && job->place != place->id))
        continue;
      if (job->item != 0 && (item = sw_item_get (catalogue, job->item, error)) == NULL)
        return FALSE;
      if (item != NULL && (item->place != place->id || !sw_state_stands (item->state)))
        continue;
      line = add_line (sheet, SW_TRIP_JOB, job->id, job->subject,
                       item != NULL ? item->place_path : NULL);
      line->item = job->item;
      line->at = place->id;
      line->detail = job_detail (job);
      sw_packing_add_job (sheet->pack, line->number, job->tools, job->hands);
      if (item != NULL && !add_caution (line, catalogue, item, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
add_jobs (SwTripSheet *sheet, SwCatalogue *catalogue, const GPtrArray *places, GError **error)
{
  g_autoptr (GPtrArray) jobs = sw_job_list (catalogue, 0, error);

  if (jobs == NULL)
    return FALSE;
  for (guint p = 0; p < places->len; p++)
    if (!add_jobs_in (sheet, catalogue, jobs, g_ptr_array_index (places, p), error))
      return FALSE;
  return TRUE;
}

static gboolean
add_looks (SwTripSheet *sheet, SwCatalogue *catalogue, const GPtrArray *places, GError **error)
{
  g_autoptr (GArray) figures = sw_place_summaries (catalogue, error);

  if (figures == NULL)
    return FALSE;
  for (guint p = 0; p < places->len; p++)
    {
      const SwPlace *place = g_ptr_array_index (places, p);

      for (guint i = 0; i < figures->len && !place->off_property; i++)
        {
          const SwPlaceSummary *sum = &g_array_index (figures, SwPlaceSummary, i);

          if (sum->place == place->id && sum->status == SW_PLACE_NOT_WALKED)
            add_line (sheet, SW_TRIP_LOOK, place->id, place->path, NULL)->at = place->id;
        }
    }
  return TRUE;
}

static gboolean
add_questions (SwTripSheet *sheet, SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) open = sw_question_open (catalogue, NULL, error);

  if (open == NULL)
    return FALSE;
  for (guint i = 0; i < open->len; i++)
    {
      const SwQuestion *question = g_ptr_array_index (open, i);
      SwTripLine *line
          = add_line (sheet, SW_TRIP_ASK, question->id, question->item_name, question->place_path);

      line->item = question->item;
      line->detail = g_strdup_printf (
          "%s: %s", question->person != NULL ? question->person : _ ("whoever knows"),
          question->text);
    }
  return TRUE;
}

static gboolean
plan_walk (SwTripSheet *sheet, SwCatalogue *catalogue, const GPtrArray *places, GError **error)
{
  g_autoptr (GArray) at = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint i = 0; i < sheet->lines->len; i++)
    {
      const SwTripLine *line = g_ptr_array_index (sheet->lines, i);

      if (line->at != 0)
        g_array_append_val (at, line->at);
    }
  sheet->walk = sw_walk_plan (catalogue, places, at, error);
  return sheet->walk != NULL;
}

SwTripSheet *
sw_trip_sheet (SwCatalogue *catalogue, gint64 trip, int milliseconds, GCancellable *cancellable,
               GError **error)
{
  g_autoptr (SwTripSheet) sheet = g_new0 (SwTripSheet, 1);
  g_autoptr (GPtrArray) places = NULL;

  sheet->today = sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));
  sheet->lines = g_ptr_array_new_with_free_func (line_free);
  sheet->pack = sw_packing_new ();
  if ((sheet->trip = sw_trip_get (catalogue, trip, error)) == NULL
      || (places = sw_place_list (catalogue, error)) == NULL
      || (sheet->load = sw_load_sheet (catalogue, trip, milliseconds, cancellable, error)) == NULL
      || !add_hand_overs (sheet, catalogue, error))
    return NULL;
  if (!add_load (sheet, catalogue, error) || !add_scrap (sheet, catalogue, error)
      || !add_jobs (sheet, catalogue, places, error) || !add_looks (sheet, catalogue, places, error)
      || !add_questions (sheet, catalogue, error)
      || (sheet->held = sw_held_list (catalogue, error)) == NULL
      || (sheet->last = sw_last_day (catalogue, sheet->today, error)) == NULL
      || !sw_scrap_pile_read (catalogue, 0, &sheet->pile, error)
      || !plan_walk (sheet, catalogue, places, error))
    return NULL;
  return g_steal_pointer (&sheet);
}
