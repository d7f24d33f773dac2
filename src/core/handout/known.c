/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/handout/known.h"

#include <string.h>

#include "core/base/language.h"
#include "core/base/length.h"
#include "core/catalogue/dangers.h"

char *
sw_known_line (const char *line, const char *text)
{
  GString *whole = g_string_new (_ (line));

  g_string_replace (whole, "%s", text, 1);
  return g_string_free (whole, FALSE);
}

/* Transfer full. */
static char *
with_source (const SwFact *fact, const char *text)
{
  return strcmp (fact->source, "guessed") == 0 ? g_strdup_printf (_ ("%s (a guess)"), text)
         : strcmp (fact->source, "told") == 0  ? g_strdup_printf (_ ("%s (so it is said)"), text)
                                               : g_strdup (text);
}

void
sw_known_add_facts (GPtrArray *lines, const GPtrArray *facts, const char *kind, const char *line)
{
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);

      if (strcmp (fact->kind, kind) == 0)
        {
          g_autofree char *text = with_source (fact, fact->text);

          g_ptr_array_add (lines, sw_known_line (line, text));
        }
    }
}

void
sw_known_add_dangers (GPtrArray *lines, const GPtrArray *facts)
{
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      const SwDanger *danger = sw_danger_of_fact (fact);

      if (danger != NULL)
        {
          g_autofree char *text = with_source (fact, _ (danger->word));

          g_ptr_array_add (lines, sw_known_line (N_ ("Danger: %s"), text));
        }
    }
}

void
sw_known_add_size (GPtrArray *lines, const SwItem *item)
{
  const gint64 sides[] = { item->length_mm, item->width_mm, item->height_mm };
  g_autoptr (GString) text = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (sides); i++)
    if (sides[i] > 0)
      {
        g_autofree char *side = sw_length_to_text (sides[i]);
        g_string_append_printf (text, "%s%s", text->len > 0 ? " x " : "", side);
      }
  if (text->len > 0)
    g_ptr_array_add (lines, sw_known_line (item->size_guessed ? item->count > 1
                                                                    ? N_ ("Size: about %s each")
                                                                    : N_ ("Size: about %s")
                                           : item->count > 1 ? N_ ("Size: %s each")
                                                              : N_ ("Size: %s"),
                                           text->str));
}
