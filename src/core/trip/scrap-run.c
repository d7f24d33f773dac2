/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/trip/scrap-run.h"
#include "core/base/language.h"

static const char *const cautions[] = {
  N_ ("Closed drums, tanks and cylinders stay: most yards take them only open, empty and clean, "
      "and "
      "pressure cylinders go back to their owner or to somebody licensed. Never cut or puncture "
      "one."),
  N_ ("Batteries, oils, fuel and refrigerant come out first and go to takers of their own; "
      "refrigerant "
      "is drawn off by licensed people alone."),
  N_ ("What may hold asbestos (lagging, old gaskets and brake linings, cement sheet) is not "
      "broken, "
      "cut "
      "or moved before a licensed person has seen it."),
  N_ ("All this is common practice: ask the yard beforehand what it takes; it and the rules of the "
      "place decide."),
  NULL,
};

const char *const *
sw_scrap_run_cautions (void)
{
  return cautions;
}

char *
sw_scrap_run_cautions_text (void)
{
  GString *text = g_string_new (_ (cautions[0]));

  for (int i = 1; cautions[i] != NULL; i++)
    g_string_append_printf (text, " %s", _ (cautions[i]));
  return g_string_free (text, FALSE);
}

const char *
sw_scrap_run_name (const SwScrapClass *of_class)
{
  return of_class->scrap_class != NULL ? of_class->scrap_class : _ ("class not said");
}

static void
add_money (GString *line, const SwScrapClass *of_class, SwCurrency currency)
{
  g_autofree char *gate = sw_money_to_person (of_class->at_gate, currency);
  g_autofree char *fetched = sw_money_to_person (of_class->fetched, currency);
  g_autofree char *sentence = sw_scrap_class_fetch_sentence (of_class);

  if (of_class->has_gate)
    g_string_append_printf (line, _ (", %s at the gate after cartage"), gate);
  if (of_class->has_fetched)
    g_string_append_printf (line, _ (", %s where it is fetched"), fetched);
  if (!of_class->has_gate && !of_class->has_fetched)
    g_string_append (line, _ (", no rate known"));
  if (of_class->has_gate && of_class->at_gate.minor < 0)
    g_string_append (line, _ (" (the cartage costs more than it brings)"));
  if (sentence != NULL)
    g_string_append_printf (line, ". %s", sentence);
}

char *
sw_scrap_run_line (const SwScrapClass *of_class, SwCurrency currency)
{
  g_autofree char *mass = sw_mass_to_rough_text (of_class->mass);
  GString *line = g_string_new (NULL);

  g_string_append_printf (line, _ ("%u thing%s, %s"), of_class->things,
                          of_class->things == 1 ? "" : "s", mass);
  if (of_class->unweighed > 0)
    g_string_append_printf (line, _ (" without the %u whose mass nobody knows"),
                            of_class->unweighed);
  add_money (line, of_class, currency);
  return g_string_free (line, FALSE);
}
