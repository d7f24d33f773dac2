/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of dangers, and adding one to an item. */
#include "core/catalogue/dangers.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/db.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/said.h"

static const SwDanger dangers[] = {
  { N_ ("heavy lift"),
    N_ ("Know its mass first; lift with gear marked for more than that, nobody under or beside "
        "it. Local codes and licensed people have the last word."),
    FALSE },
  { N_ ("old wiring"),
    N_ ("Do not plug it in: have the cable, plug and earth tested by a licensed electrician. Local "
        "codes and licensed people have the last word."),
    FALSE },
  { N_ ("unguarded machine"),
    N_ ("Do not run it without its guards; lock off the drive before hands come near. Local codes "
        "and licensed people have the last word."),
    FALSE },
  { N_ ("pressure"),
    N_ ("May hold pressure when it looks empty; do not loosen, cut or heat it before an inspector "
        "has "
        "seen it. Local codes and licensed people have the last word."),
    FALSE },
  { N_ ("lead paint"),
    N_ ("Do not sand, burn or blast it; keep children away and wash hands after handling. Local "
        "codes and licensed people have the last word."),
    FALSE },
  { N_ ("asbestos"),
    N_ ("Leave it alone: do not break, drill or sweep it; let a licensed remover sample it. Local "
        "codes and licensed people have the last word."),
    TRUE },
  { N_ ("chemicals"),
    N_ ("Keep it closed, upright and apart from others; read the label, and take it to a licensed "
        "collection. Local codes and licensed people have the last word."),
    TRUE },
  { N_ ("held fuel"),
    N_ ("No flame, spark or cutting near it, also when empty: vapour stays. Let it be drained and "
        "cleaned by somebody licensed. Local codes and licensed people have the last word."),
    FALSE },
  { N_ ("unknown contents"),
    N_ ("Treat it as dangerous: do not open, tip, cut or heat it until somebody licensed says what "
        "it "
        "is. Local codes and licensed people have the last word."),
    TRUE },
  { N_ ("driven shafts"),
    N_ ("Stop the drive and take the key before reaching near; no loose sleeves, hair or cords. "
        "Local codes and licensed people have the last word."),
    FALSE },
};

const SwDanger *
sw_dangers (gsize *out_n)
{
  *out_n = G_N_ELEMENTS (dangers);
  return dangers;
}

const SwDanger *
sw_danger_find (const char *word)
{
  for (gsize i = 0; i < G_N_ELEMENTS (dangers); i++)
    if (sw_text_same_name (dangers[i].word, word))
      return &dangers[i];
  return NULL;
}

const SwDanger *
sw_danger_of_fact (const SwFact *fact)
{
  return strcmp (fact->kind, SW_FACT_DANGER) == 0 ? sw_danger_find (fact->text) : NULL;
}

static const SwDanger *
find_or_refuse (const char *word, GError **error)
{
  const char *words[G_N_ELEMENTS (dangers)];
  const SwDanger *danger = sw_danger_find (word);
  if (danger != NULL)
    return danger;
  for (gsize i = 0; i < G_N_ELEMENTS (dangers); i++)
    words[i] = dangers[i].word;
  sw_said_is_one_of (word, words, G_N_ELEMENTS (words), _ ("A danger"), error);
  return NULL;
}

/* The standing fact of that danger, 0 for none. */
static gboolean
fact_of (SwCatalogue *catalogue, gint64 item, const SwDanger *danger, gint64 *out_id,
         GError **error)
{
  g_autoptr (GPtrArray) facts = sw_fact_list (catalogue, item, error);
  if (facts == NULL)
    return FALSE;
  *out_id = 0;
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      if (strcmp (fact->kind, SW_FACT_DANGER) == 0 && strcmp (fact->text, danger->word) == 0)
        *out_id = fact->id;
    }
  return TRUE;
}

gboolean
sw_danger_add (SwCatalogue *catalogue, gint64 number, const char *word, const char *source,
               const char *by_whom, GError **error)
{
  const SwDanger *danger = find_or_refuse (word, error);
  gint64 id = 0;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (danger == NULL || !sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL || !fact_of (catalogue, number, danger, &id, error))
    return FALSE;
  if (!(id != 0 ? sw_fact_edit (catalogue, id, danger->word, source, by_whom, error)
                : sw_fact_add (catalogue, number, SW_FACT_DANGER, danger->word, source, by_whom,
                               NULL, error)))
    return FALSE;
  const gboolean never = TRUE;
  SwItemChange change = { .never_offer = &never };
  if (danger->clear_first && !item->never_offer
      && !sw_item_change (catalogue, number, &change, error))
    return FALSE;
  g_autofree char *sentence = g_strdup_printf (_ ("%s: danger: %s"), item->name, _ (danger->word));
  return sw_act_commit (&act, sentence, error);
}
