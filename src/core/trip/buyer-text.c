/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/trip/buyer-text.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/site.h"
#include "core/catalogue/trips.h"

static void
add_thing (GString *text, const SwItem *item)
{
  g_autofree char *mass = item->has_mass ? sw_mass_to_rough_text (item->mass) : NULL;

  g_string_append (text, "- ");
  if (item->count > 1)
    g_string_append_printf (text, "%" G_GINT64_FORMAT " x ", item->count);
  g_string_append (text, item->name);
  if (mass != NULL)
    g_string_append_printf (text, ", %s", mass);
  if (item->size == SW_SIZE_TWO_PEOPLE)
    g_string_append (text, _ (": please bring a second person"));
  else if (item->size == SW_SIZE_MACHINE)
    g_string_append (text, _ (": please bring, or agree on, a machine to lift it"));
  g_string_append_c (text, '\n');
}

static gboolean
add_dangers (GString *text, SwCatalogue *catalogue, const SwItem *item, GError **error)
{
  g_autoptr (GPtrArray) facts = NULL;

  if (item->n_dangers == 0)
    return TRUE;
  facts = sw_fact_list (catalogue, item->id, error);
  for (guint i = 0; facts != NULL && i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      const SwDanger *danger = sw_danger_of_fact (fact);

      if (danger != NULL)
        g_string_append_printf (text, _ ("Caution, %s: %s: %s\n"), item->name, _ (danger->word),
                                _ (danger->caution));
    }
  return facts != NULL;
}

static void
add_money (GString *text, SwCatalogue *catalogue, const SwHandOver *hand_over)
{
  SwCurrency currency = sw_catalogue_currency (catalogue);
  g_autofree char *due = sw_money_to_person (hand_over->due, currency);

  if (hand_over->due.minor > 0)
    g_string_append_printf (text, _ ("%s %s is due in cash when you fetch it.\n"), due,
                            currency.code);
  else
    g_string_append (text, _ ("It is paid; thank you.\n"));
}

static void
add_when (GString *text, const SwHandOver *hand_over, const char *hours)
{
  g_autofree char *day = hand_over->has_deadline ? sw_day_to_person (hand_over->deadline) : NULL;

  if (*hours != '\0')
    g_string_append_printf (text, _ ("Somebody is there: %s. Please say when you will come.\n"),
                            hours);
  else
    g_string_append (text, _ ("Please say when you could come; we then agree on a time.\n"));
  if (day != NULL && hand_over->before_trip)
    g_string_append_printf (
        text,
        _ ("By the terms it is to be fetched by %s: if that cannot be, let us agree on a day.\n"),
        day);
  else if (day != NULL)
    g_string_append_printf (text, _ ("By the terms it is to be fetched by %s.\n"), day);
}

static char *
buyer_text (SwCatalogue *catalogue, gint64 trip, const SwHandOver *hand_over, GError **error)
{
  g_autoptr (SwTrip) there = sw_trip_get (catalogue, trip, error);
  g_autofree char *hours = there != NULL ? sw_site_hours (catalogue, trip, error) : NULL;
  g_autofree char *way = hours != NULL ? sw_site_way (catalogue, error) : NULL;
  g_autoptr (GString) text = NULL;

  if (way == NULL)
    return NULL;
  text = g_string_new (NULL);
  g_string_append_printf (text, _ ("Hello%s%s,\n\nto be fetched:\n"),
                          hand_over->buyer != NULL ? " " : "",
                          hand_over->buyer != NULL ? hand_over->buyer : "");
  for (guint i = 0; i < hand_over->things->len; i++)
    add_thing (text, ((const SwHandOverThing *)g_ptr_array_index (hand_over->things, i))->item);
  g_string_append_c (text, '\n');
  add_money (text, catalogue, hand_over);
  add_when (text, hand_over, hours);
  for (guint i = 0; i < hand_over->things->len; i++)
    if (!add_dangers (text, catalogue,
                      ((const SwHandOverThing *)g_ptr_array_index (hand_over->things, i))->item,
                      error))
      return NULL;
  if (hand_over->due.minor == 0 && *way != '\0')
    g_string_append_printf (text, _ ("\nThe way: %s\n"), way);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
sw_buyer_text_of_deal (SwCatalogue *catalogue, gint64 trip, gint64 deal, GError **error)
{
  g_autoptr (SwTrip) there = sw_trip_get (catalogue, trip, error);
  g_autoptr (GPtrArray) list
      = there != NULL ? sw_hand_over_list (catalogue, there->first, error) : NULL;

  if (list == NULL)
    return NULL;
  for (guint h = 0; h < list->len; h++)
    {
      const SwHandOver *hand_over = g_ptr_array_index (list, h);

      for (guint i = 0; i < hand_over->things->len; i++)
        if (((const SwHandOverThing *)g_ptr_array_index (hand_over->things, i))->deal == deal)
          return buyer_text (catalogue, trip, hand_over, error);
    }
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
               _ ("Nothing of that sale waits to be fetched."));
  return NULL;
}
