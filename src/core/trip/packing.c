/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/trip/packing.h"
#include "core/base/language.h"

#include "core/base/text.h"

static void
thing_free (gpointer data)
{
  SwPackingThing *thing = data;

  g_free (thing->name);
  g_array_unref (thing->lines);
  g_free (thing);
}

SwPacking *
sw_packing_new (void)
{
  SwPacking *packing = g_new0 (SwPacking, 1);

  packing->things = g_ptr_array_new_with_free_func (thing_free);
  return packing;
}

void
sw_packing_free (SwPacking *packing)
{
  if (packing == NULL)
    return;
  g_ptr_array_unref (packing->things);
  g_free (packing);
}

static SwPackingThing *
thing_named (SwPacking *packing, const char *name)
{
  SwPackingThing *thing;

  for (guint i = 0; i < packing->things->len; i++)
    {
      thing = g_ptr_array_index (packing->things, i);
      if (sw_text_same_name (thing->name, name))
        return thing;
    }
  thing = g_new0 (SwPackingThing, 1);
  thing->name = g_strdup (name);
  thing->lines = g_array_new (FALSE, FALSE, sizeof (int));
  g_ptr_array_add (packing->things, thing);
  return thing;
}

static void
add_thing (SwPacking *packing, const char *name, int line)
{
  SwPackingThing *thing = thing_named (packing, name);
  const guint n = thing->lines->len;

  if (n == 0 || g_array_index (thing->lines, int, n - 1) != line)
    g_array_append_val (thing->lines, line);
}

void
sw_packing_add_job (SwPacking *packing, int line, const char *tools, gint64 hands)
{
  g_auto (GStrv) names = g_strsplit_set (tools != NULL ? tools : "", ",;+\n", -1);

  packing->hands = MAX (packing->hands, hands);
  for (char **name = names; *name != NULL; name++)
    {
      g_autofree char *tidy = sw_text_tidy (*name);

      if (*tidy != '\0')
        add_thing (packing, tidy, line);
    }
}

char *
sw_packing_thing_words (const SwPackingThing *thing)
{
  GString *words = g_string_new (thing->lines->len == 1 ? _ ("for line") : _ ("for lines"));

  for (guint i = 0; i < thing->lines->len; i++)
    g_string_append_printf (words, "%s %d", i > 0 ? "," : "", g_array_index (thing->lines, int, i));
  return g_string_free (words, FALSE);
}
