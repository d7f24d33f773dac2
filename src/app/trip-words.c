/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/trip-words.h"

#include "app/text.h"

static void
add_due (SwStore *store, const SwTripSheet *sheet, GString *text)
{
  g_autofree char *due = NULL;

  if (sheet->due.minor == 0)
    return;
  due = sw_store_money_with_code (store, sheet->due);
  g_string_append_printf (text, _ ("%s due at hand-overs. "), due);
}

static void
add_load_words (SwStore *store, const SwTripSheet *sheet, GString *text)
{
  const SwLoadSheet *load = sheet->load;
  g_autofree char *money = sw_store_money_with_code (store, load->leaves);
  g_autofree char *most = sw_store_money_with_code (store, load->may_leave);
  g_autofree char *unsure = sw_mass_to_rough_text (load->unsure);

  if (load->things->len > 0 && !load->has_van)
    g_string_append (text, _ ("Say what the van may carry to have the load planned. "));
  for (guint r = 0; r < load->runs->len; r++)
    {
      const SwLoadRunSum *run = &g_array_index (load->runs, SwLoadRunSum, r);
      g_autofree char *mass = sw_mass_to_rough_text (run->mass);

      if (run->pieces > 0)
        g_string_append_printf (text, _ ("Run %u: %d to load, %s. "), r + 1, (int)run->pieces,
                                mass);
    }
  if (load->leaves.minor > 0 && load->best)
    g_string_append_printf (text, _ ("Expected to leave %s. "), money);
  else if (load->leaves.minor > 0)
    g_string_append_printf (text, _ ("Expected to leave %s, and no load more than %s. "), money,
                            most);
  if (load->unsure.ug > 0)
    g_string_append_printf (text, _ ("%s is guessed. "), unsure);
}

char *
sw_trip_thing_words (SwStore *store, const SwLoadThing *thing)
{
  g_autofree char *money = sw_store_money_with_code (store, thing->leaves);
  GString *text = g_string_new (NULL);

  if (thing->wish == SW_WISH_MUST)
    g_string_append (text, _ ("You said that it must go. "));
  if (thing->outlet != NULL)
    g_string_append_printf (text, _ ("Expected to leave %s at %s. "), money, thing->outlet);
  else if (thing->leaves.minor > 0)
    g_string_append_printf (text, _ ("%s is asked for it. "), money);
  if (thing->mass_basis == SW_BASIS_ASSUMED)
    g_string_append (text, _ ("Its mass is not known; it is taken like a thing for two people. "));
  if (thing->floor_cm2 > 0)
    g_string_append_printf (text, _ ("It takes %.1f m² of floor each. "),
                            (double)thing->floor_cm2 / 10000);
  return g_string_free (text, FALSE);
}

char *
sw_trip_summary_words (SwStore *store, const SwTripSheet *sheet)
{
  g_autofree char *walk = sw_walk_sentence (sheet->walk);
  g_autofree char *last = sw_last_day_sentence (sheet->last);
  GString *text = g_string_new (NULL);

  add_due (store, sheet, text);
  add_load_words (store, sheet, text);
  if (last != NULL)
    g_string_append_printf (text, "%s ", last);
  if (walk != NULL)
    g_string_append (text, walk);
  if (sheet->lines->len == 0 && sheet->load->things->len == 0 && sheet->held->len == 0)
    g_string_append (text,
                     _ ("Nothing is to do there yet: it comes by itself from what is sold, to "
                        "be brought home, for scrap, and from jobs and questions."));
  return g_strchomp (g_string_free (text, FALSE));
}
