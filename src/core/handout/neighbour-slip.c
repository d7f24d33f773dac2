/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/handout/neighbour-slip.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/trips.h"
#include "core/handout/paper.h"
#include "core/trip/hand-overs.h"

#define BOX "\xE2\x98\x90" /* ballot box */

static const char *const rules[] = {
  N_ ("Only what stands here goes, and only to the person named. First the money, then the thing."),
  N_ ("Lift nothing heavy alone, switch nothing on, open nothing that is closed. If anything looks "
      "unsafe, let it stand and call."),
};

static const SwHandOverThing *
thing_at (const SwHandOver *hand_over, guint i)
{
  return g_ptr_array_index (hand_over->things, i);
}

static char *
thing_cell (const SwItem *item)
{
  g_autofree char *count
      = item->count > 1 ? g_strdup_printf ("%" G_GINT64_FORMAT " x ", item->count) : g_strdup ("");
  g_autofree char *mass = item->has_mass ? sw_mass_to_rough_text (item->mass) : NULL;

  return g_strdup_printf (BOX " %s%s%s%s%s", count, item->name, mass != NULL ? ", " : "",
                          mass != NULL ? mass : "",
                          item->size == SW_SIZE_MACHINE      ? _ (", machine needed")
                          : item->size == SW_SIZE_TWO_PEOPLE ? _ (", two people")
                                                             : "");
}

static void
set_things (SwPaper *paper, const SwHandOver *hand_over)
{
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);

  for (guint i = 0; i <= hand_over->things->len; i++)
    {
      char **row = g_new0 (char *, 3);

      row[0] = i == 0 ? g_strdup (_ ("What")) : thing_cell (thing_at (hand_over, i - 1)->item);
      row[1] = g_strdup (i == 0 ? _ ("Where") : thing_at (hand_over, i - 1)->item->place_path);
      g_ptr_array_add (rows, row);
    }
  sw_paper_table (paper, (char **const *)rows->pdata, rows->len, 2, 0, FALSE);
}

static gboolean
set_dangers (SwPaper *paper, SwCatalogue *catalogue, const SwItem *item, GError **error)
{
  g_autoptr (GPtrArray) facts
      = item->n_dangers > 0 ? sw_fact_list (catalogue, item->id, error) : NULL;

  for (guint i = 0; facts != NULL && i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      const SwDanger *danger = sw_danger_of_fact (fact);
      g_autofree char *line = danger != NULL
                                  ? g_strdup_printf (_ ("Caution, %s: %s: %s"), item->name,
                                                     _ (danger->word), _ (danger->caution))
                                  : NULL;

      if (line != NULL)
        sw_paper_line (paper, line);
    }
  return item->n_dangers == 0 || facts != NULL;
}

static gboolean
set_hand_over (SwPaper *paper, SwCatalogue *catalogue, const SwHandOver *hand_over, GError **error)
{
  SwCurrency currency = sw_catalogue_currency (catalogue);
  g_autofree char *due = sw_money_to_person (hand_over->due, currency);
  g_autofree char *money = hand_over->due.minor > 0
                               ? g_strdup_printf (_ ("To be taken: %s %s."), due, currency.code)
                               : g_strdup (_ ("Paid: nothing is to be taken."));

  sw_paper_heading (paper, hand_over->buyer != NULL ? hand_over->buyer : _ ("Buyer not named"));
  set_things (paper, hand_over);
  sw_paper_line (paper, money);
  for (guint i = 0; i < hand_over->things->len; i++)
    if (!set_dangers (paper, catalogue, thing_at (hand_over, i)->item, error))
      return FALSE;
  sw_paper_gap (paper);
  sw_paper_line (paper,
                 _ ("Taken: ______________  Day: ______________  Fetched by: ____________________  "
                    "Handed over by: ____________________"));
  return TRUE;
}

gboolean
sw_neighbour_slip_write (SwCatalogue *catalogue, gint64 trip, const char *path, int *out_pages,
                         GError **error)
{
  g_autoptr (SwTrip) there = sw_trip_get (catalogue, trip, error);
  g_autoptr (GPtrArray) list
      = there != NULL ? sw_hand_over_list (catalogue, there->first, error) : NULL;
  g_autoptr (SwPaper) paper = sw_paper_new (_ ("To be handed over"));
  g_autoptr (GBytes) pdf = NULL;

  if (list == NULL)
    return FALSE;
  if (list->len == 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("Nothing that is sold waits to be fetched."));
      return FALSE;
    }
  sw_paper_heading (paper, _ ("To be handed over"));
  for (gsize i = 0; i < G_N_ELEMENTS (rules); i++)
    sw_paper_line (paper, _ (rules[i]));
  for (guint i = 0; i < list->len; i++)
    if (!set_hand_over (paper, catalogue, g_ptr_array_index (list, i), error))
      return FALSE;
  pdf = sw_paper_pdf (paper, out_pages, error);
  return pdf != NULL && sw_paper_write_file (path, ".pdf", pdf, _ ("The slip"), error);
}
