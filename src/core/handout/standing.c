/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lays out what the layers below know; adds nothing up. */
#include "core/handout/standing.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/claims.h"
#include "core/catalogue/items.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/places.h"
#include "core/catalogue/questions.h"
#include "core/catalogue/trips.h"
#include "core/handout/paper.h"
#include "core/handout/target.h"
#include "core/trade/offers.h"
#include "core/trade/sales.h"
#include "core/trip/hand-overs.h"

typedef struct
{
  SwCatalogue *catalogue;
  SwPaper *paper;
  SwDay today;
  GString *nothing; /* sentences of the parts that are empty */
} Sheet;

/* ---- tables ---- */

static GPtrArray *
rows_new (const char *a, const char *b, const char *c)
{
  GPtrArray *rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);
  char *cells[] = { (char *)a, (char *)b, (char *)c, NULL };

  g_ptr_array_add (rows, g_strdupv (cells));
  return rows;
}

/* Takes a; b and c may be NULL. */
static void
add_row (GPtrArray *rows, char *a, const char *b, const char *c)
{
  char **row = g_new0 (char *, 4);

  row[0] = a;
  row[1] = g_strdup (b != NULL ? b : "");
  row[2] = g_strdup (c != NULL ? c : "");
  g_ptr_array_add (rows, row);
}

/* What is empty is said at the end, so that a missing part is no question. */
static void
set_table (const Sheet *sheet, const char *heading, GPtrArray *rows, const char *none, guint right)
{
  if (rows->len == 1)
    {
      g_string_append_printf (sheet->nothing, "%s%s", sheet->nothing->len > 0 ? " " : "", none);
      return;
    }
  sw_paper_gap (sheet->paper);
  sw_paper_heading (sheet->paper, heading);
  sw_paper_table (sheet->paper, (char **const *)rows->pdata, rows->len, 3, right, FALSE);
}

static char *
item_words (gint64 number, const char *name, gint64 count)
{
  return count > 1 ? g_strdup_printf ("%" G_GINT64_FORMAT "  %" G_GINT64_FORMAT " x %s", number,
                                      count, name)
                   : g_strdup_printf ("%" G_GINT64_FORMAT "  %s", number, name);
}

/* "2026-05-04", "2026-05-04, past". Transfer full. */
static char *
day_words (const Sheet *sheet, SwDay day)
{
  g_autofree char *text = sw_day_to_person (day);

  return day.n < sheet->today.n ? g_strdup_printf (_ ("%s, past"), text) : g_steal_pointer (&text);
}

/* ---- what is promised ---- */

static void
add_hand_over (const Sheet *sheet, GPtrArray *rows, const SwHandOver *hand_over)
{
  g_autoptr (GString) what = g_string_new (NULL);
  g_autofree char *by
      = hand_over->has_deadline ? day_words (sheet, hand_over->deadline) : g_strdup (_ ("no day"));
  g_autofree char *due
      = sw_money_to_person (hand_over->due, sw_catalogue_currency (sheet->catalogue));

  g_string_append_printf (
      what, "%s:", hand_over->buyer != NULL ? hand_over->buyer : _ ("Buyer not named"));
  for (guint i = 0; i < hand_over->things->len; i++)
    {
      const SwHandOverThing *thing = g_ptr_array_index (hand_over->things, i);
      g_autofree char *words = item_words (thing->item->id, thing->item->name, thing->item->count);

      g_autofree char *where = g_strdup_printf (_ ("%s, in %s"), words, thing->item->place_path);

      g_string_append_printf (what, "\n%s", where);
    }
  add_row (rows, g_strdup (what->str), by, due);
}

static gboolean
set_promised (const Sheet *sheet, GError **error)
{
  g_autoptr (GPtrArray) all = sw_hand_over_list (sheet->catalogue, sheet->today, error);
  g_autoptr (GPtrArray) rows
      = rows_new (_ ("Sold, to be handed over"), _ ("Collect by"), _ ("To be paid"));

  for (guint i = 0; all != NULL && i < all->len; i++)
    add_hand_over (sheet, rows, g_ptr_array_index (all, i));
  if (all != NULL)
    set_table (sheet, _ ("Promised"), rows, _ ("Nothing sold waits to be handed over."), 1u << 2);
  return all != NULL;
}

static gboolean
set_held (const Sheet *sheet, const GPtrArray *items)
{
  g_autoptr (GPtrArray) rows = rows_new (_ ("Held"), _ ("For"), _ ("Until"));

  for (guint i = 0; i < items->len; i++)
    {
      const SwItem *item = g_ptr_array_index (items, i);
      g_autofree char *until = item->has_hold ? day_words (sheet, item->hold_until) : NULL;

      if (item->state == SW_STATE_ON_HOLD)
        add_row (rows, item_words (item->id, item->name, item->count), item->hold_for, until);
    }
  set_table (sheet, _ ("On hold"), rows, _ ("Nothing is held."), 0);
  return TRUE;
}

/* ---- what is owed though it is gone ---- */

static gboolean
set_owed (const Sheet *sheet, GError **error)
{
  g_autoptr (GPtrArray) all = sw_sale_list (sheet->catalogue, error);
  g_autoptr (GPtrArray) rows = rows_new (_ ("Sold"), _ ("Buyer"), _ ("Owed"));

  for (guint i = 0; all != NULL && i < all->len; i++)
    {
      const SwSale *sale = g_ptr_array_index (all, i);
      g_autofree char *owed
          = sw_money_to_person (sale->owed, sw_catalogue_currency (sheet->catalogue));

      if (sale->owed.minor > 0)
        add_row (rows,
                 g_strdup_printf (sale->deal->has_collected ? _ ("%s  %s, collected") : "%s  %s",
                                  sale->deal->ref, sale->items),
                 sale->deal->buyer != NULL ? sale->deal->buyer : _ ("not named"), owed);
    }
  if (all != NULL)
    set_table (sheet, _ ("Owed"), rows, _ ("Nobody owes anything."), 1u << 2);
  return all != NULL;
}

/* ---- what runs ---- */

static gboolean
set_offers (const Sheet *sheet, GError **error)
{
  g_autoptr (GPtrArray) all = sw_offer_list (sheet->catalogue, error);
  g_autoptr (GPtrArray) rows = rows_new (_ ("On offer"), _ ("Through"), _ ("Closes"));

  for (guint i = 0; all != NULL && i < all->len; i++)
    {
      const SwOffer *offer = g_ptr_array_index (all, i);
      SwDay day = sw_day_of_instant (offer->closes, sw_catalogue_zone (sheet->catalogue));
      g_autofree char *closes
          = offer->has_closes ? day_words (sheet, day) : g_strdup (_ ("runs on"));

      add_row (rows,
               g_strdup_printf (offer->to_withdraw ? _ ("%s  %s: to be withdrawn") : "%s  %s",
                                offer->ref, offer->items),
               offer->outlet, closes);
    }
  if (all != NULL)
    set_table (sheet, _ ("Running offers"), rows, _ ("No offer runs."), 0);
  return all != NULL;
}

static gboolean
set_trips (const Sheet *sheet, GError **error)
{
  g_autoptr (GPtrArray) trips = sw_trip_list (sheet->catalogue, error);
  g_autoptr (GPtrArray) rows = rows_new (_ ("Trips to come"), _ ("First day"), _ ("Last day"));

  for (guint i = 0; trips != NULL && i < trips->len; i++)
    {
      const SwTrip *trip = g_ptr_array_index (trips, i);
      g_autofree char *first = sw_day_to_person (trip->first),
                      *last = sw_day_to_person (trip->last);

      if (trip->last.n >= sheet->today.n)
        add_row (rows, g_strdup_printf ("%" G_GINT64_FORMAT "  %s", trip->id, trip->title), first,
                 last);
    }
  if (trips != NULL)
    set_table (sheet, _ ("Days on site"), rows, _ ("No trip lies ahead."), 0);
  return trips != NULL;
}

/* ---- what is to find out and to do ---- */

static gboolean
set_questions (const Sheet *sheet, GError **error)
{
  g_autoptr (GPtrArray) all = sw_question_open (sheet->catalogue, NULL, error);
  g_autoptr (GPtrArray) rows = rows_new (_ ("Question"), _ ("Who knows"), _ ("By"));

  for (guint i = 0; all != NULL && i < all->len; i++)
    {
      const SwQuestion *question = g_ptr_array_index (all, i);
      g_autofree char *by = question->has_by ? day_words (sheet, question->by) : NULL;

      add_row (rows,
               g_strdup_printf (question->asked ? _ ("%" PRId64 "  %s: %s (asked, no answer yet)")
                                                : "%" PRId64 "  %s: %s",
                                question->item, question->item_name, question->text),
               question->person != NULL ? question->person : _ ("nobody named"), by);
    }
  if (all != NULL)
    set_table (sheet, _ ("Open questions"), rows, _ ("No question is open."), 0);
  return all != NULL;
}

static const char *
claim_words (const SwClaimSaid *said, const GArray *clashes)
{
  for (guint i = 0; i < clashes->len; i++)
    if (g_array_index (clashes, gint64, i) == said->item && said->says == SW_CLAIM_MINE)
      return _ ("mine; so says another");
  return said->says == SW_CLAIM_MINE ? _ ("mine") : _ ("has still to say");
}

static gboolean
set_claims (const Sheet *sheet, GError **error)
{
  g_autoptr (GPtrArray) all = sw_claim_list (sheet->catalogue, 0, error);
  g_autoptr (GArray) clashes = all != NULL ? sw_claim_clashes (sheet->catalogue, error) : NULL;
  g_autoptr (GPtrArray) rows = rows_new (_ ("Claimed"), _ ("By"), _ ("Says"));

  for (guint i = 0; clashes != NULL && i < all->len; i++)
    {
      const SwClaimSaid *said = g_ptr_array_index (all, i);

      if (said->says != SW_CLAIM_NONE)
        add_row (rows, item_words (said->item, said->item_name, 1),
                 *said->person != '\0' ? said->person : _ ("nobody named"),
                 claim_words (said, clashes));
    }
  if (clashes != NULL)
    set_table (sheet, _ ("Claims"), rows, _ ("Nobody claims anything."), 0);
  return clashes != NULL;
}

static gboolean
set_jobs (const Sheet *sheet, GError **error)
{
  g_autoptr (GPtrArray) all = sw_job_list (sheet->catalogue, 0, error);
  g_autoptr (GPtrArray) rows = rows_new (_ ("Job"), _ ("At"), _ ("With"));

  for (guint i = 0; all != NULL && i < all->len; i++)
    {
      const SwJob *job = g_ptr_array_index (all, i);

      if (!job->done)
        add_row (rows, sw_job_words (job), job->subject, job->tools);
    }
  if (all != NULL)
    set_table (sheet, _ ("Jobs on site"), rows, _ ("No job is open."), 0);
  return all != NULL;
}

/* ---- what still stands, and keys ---- */

static guint
count_at (const GPtrArray *items, gint64 place)
{
  guint n = 0;

  for (guint i = 0; i < items->len; i++)
    {
      const SwItem *item = g_ptr_array_index (items, i);
      n += item->place == place && sw_state_stands (item->state);
    }
  return n;
}

/* The catalogue knows of no keys: who holds them is written in by hand. */
static gboolean
set_places (const Sheet *sheet, const GPtrArray *items, GError **error)
{
  g_autoptr (GPtrArray) places = sw_place_list (sheet->catalogue, error);
  g_autoptr (GPtrArray) rows = rows_new (_ ("Place"), _ ("Items that stand"), _ ("Key is with"));

  for (guint i = 0; places != NULL && i < places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (places, i);
      g_autofree char *n = g_strdup_printf ("%u", count_at (items, place->id));

      add_row (rows, g_strdup (place->path), n, "______________________");
    }
  if (places != NULL)
    set_table (sheet, _ ("What stands where, and keys"), rows, _ ("There is no place yet."),
               1u << 1);
  return places != NULL;
}

/* ---- the whole ---- */

static SwPaper *
standing_sheet (SwCatalogue *catalogue, SwDay today, GError **error)
{
  g_autofree char *day = sw_day_to_person (today);
  g_autofree char *title
      = g_strdup_printf (_ ("%s: where things stand"), sw_catalogue_name (catalogue));
  g_autofree char *about = g_strdup_printf (_ ("As of %s. Money in %s. It names people: hand it to "
                                               "whoever takes over, and to nobody else."),
                                            day, sw_catalogue_currency (catalogue).code);
  g_autoptr (SwPaper) paper = sw_paper_new (title);
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, NULL, error);
  g_autoptr (GString) nothing = g_string_new (NULL);
  const Sheet sheet = { catalogue, paper, today, nothing };

  sw_paper_heading (paper, title);
  sw_paper_line (paper, about);
  if (items == NULL || !set_promised (&sheet, error) || !set_held (&sheet, items)
      || !set_owed (&sheet, error) || !set_offers (&sheet, error) || !set_trips (&sheet, error)
      || !set_claims (&sheet, error) || !set_questions (&sheet, error) || !set_jobs (&sheet, error)
      || !set_places (&sheet, items, error))
    return NULL;
  sw_paper_gap (paper);
  if (nothing->len > 0)
    sw_paper_line (paper, nothing->str);
  return g_steal_pointer (&paper);
}

gboolean
sw_standing_write (SwCatalogue *catalogue, SwDay today, const char *path, int *out_pages,
                   GError **error)
{
  g_autoptr (SwPaper) paper = NULL;
  g_autoptr (GBytes) pdf = NULL;

  if (!sw_target_is_outside (sw_catalogue_folder (catalogue), path, error))
    return FALSE;
  paper = standing_sheet (catalogue, today, error);
  pdf = paper != NULL ? sw_paper_pdf (paper, out_pages, error) : NULL;
  return pdf != NULL && sw_paper_write_file (path, ".pdf", pdf, _ ("The sheet"), error);
}
