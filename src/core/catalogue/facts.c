/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Facts of items: rows and their checks. What was told or guessed stays marked as such. */
#include "core/catalogue/facts.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/db.h"
#include "core/catalogue/places.h"
#include "core/catalogue/said.h"

static const char *const sources[] = { N_ ("seen"), N_ ("tried"), N_ ("told"), N_ ("guessed") };

void
sw_fact_free (SwFact *fact)
{
  if (fact == NULL)
    return;
  g_free (fact->kind);
  g_free (fact->text);
  g_free (fact->source);
  g_free (fact->by_whom);
  g_free (fact->place_path);
  g_free (fact);
}

static gboolean
check_said (const char *text, const char *source, const char *by_whom, GError **error)
{
  if (!sw_text_check (text, _ ("The fact"), TRUE, FALSE, error)
      || !sw_said_check_person (by_whom, error)
      || !sw_said_is_one_of (source, sources, G_N_ELEMENTS (sources), _ ("The source of a fact"),
                             error))
    return FALSE;
  g_autofree char *person = sw_said_tidy (by_whom);
  if (strcmp (source, "told") != 0 || person != NULL)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("A fact that was told needs the person who told it; give the name."));
  return FALSE;
}

/* "Screw press: condition: worn (told by Ada)". Transfer full. */
static char *
fact_sentence (const char *name, const char *kind, const char *text, const char *source,
               const char *person)
{
  return g_strdup_printf ("%s: %s: %s (%s%s%s)", name, kind, text, source,
                          person != NULL ? _ (" by ") : "", person != NULL ? person : "");
}

gboolean
sw_fact_add (SwCatalogue *catalogue, gint64 item, const char *kind, const char *text,
             const char *source, const char *by_whom, gint64 *out_id, GError **error)
{
  if (!sw_text_check (kind, _ ("The kind of fact"), FALSE, FALSE, error)
      || !check_said (text, source, by_whom, error))
    return FALSE;
  g_autofree char *person = sw_said_tidy (by_whom);
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) found = sw_item_get (catalogue, item, error);
  if (found == NULL
      || !sw_db_run (catalogue, error, SW_STMT_FACT_INSERT, "itttti", item, kind, text, source,
                     person, sw_catalogue_now (catalogue).us))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  g_autofree char *sentence = fact_sentence (found->name, kind, text, source, person);
  if (!sw_said_commit_found (&act, item, "item.fact", sentence, error))
    return FALSE;
  if (out_id != NULL)
    *out_id = id;
  return TRUE;
}

static SwFact *
fact_from_row (const SwUse *use)
{
  SwFact *fact = g_new0 (SwFact, 1);
  fact->id = sw_col_int (use, 0);
  fact->item = sw_col_int (use, 1);
  fact->kind = sw_col_text (use, 2);
  fact->text = sw_col_text (use, 3);
  fact->source = sw_col_text (use, 4);
  fact->by_whom = sw_col_text (use, 5);
  fact->place = sw_col_int (use, 6);
  fact->place_path = sw_col_text (use, 7);
  return fact;
}

/* *out_withdrawn FALSE where it stands. */
static SwFact *
fact_get (SwCatalogue *catalogue, gint64 id, gboolean *out_withdrawn, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_FACT_GET, "i", id);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return NULL;
  if (row)
    {
      *out_withdrawn = !sw_col_is_null (&use, 8);
      return fact_from_row (&use);
    }
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no fact %" PRId64 "."), id);
  return NULL;
}

/* One that stands. */
static SwFact *
standing_fact (SwCatalogue *catalogue, gint64 id, GError **error)
{
  gboolean withdrawn = FALSE;
  g_autoptr (SwFact) fact = fact_get (catalogue, id, &withdrawn, error);
  if (fact == NULL || !withdrawn)
    return g_steal_pointer (&fact);
  g_autofree char *shown = sw_text_quote (fact->text);
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("The fact %s was withdrawn meanwhile; add it anew to say it again."), shown);
  return NULL;
}

gboolean
sw_fact_edit (SwCatalogue *catalogue, gint64 id, const char *text, const char *source,
              const char *by_whom, GError **error)
{
  if (!check_said (text, source, by_whom, error))
    return FALSE;
  g_autofree char *person = sw_said_tidy (by_whom);
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwFact) fact = standing_fact (catalogue, id, error);
  if (fact == NULL)
    return FALSE;
  if (strcmp (fact->text, text) == 0 && strcmp (fact->source, source) == 0
      && g_strcmp0 (fact->by_whom, person) == 0)
    return TRUE;
  g_autoptr (SwItem) item = sw_item_get (catalogue, fact->item, error);
  if (item == NULL
      || !sw_db_run (catalogue, error, SW_STMT_FACT_UPDATE, "ittt", id, text, source, person))
    return FALSE;
  g_autofree char *now = fact_sentence (item->name, fact->kind, text, source, person);
  g_autofree char *sentence = g_strdup_printf (_ ("%s, was: %s"), now, fact->text);
  return sw_said_commit_found (&act, item->id, "item.fact", sentence, error);
}

gboolean
sw_fact_set_place (SwCatalogue *catalogue, gint64 id, gint64 place, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwFact) fact = standing_fact (catalogue, id, error);
  g_autoptr (SwItem) item = fact != NULL ? sw_item_get (catalogue, fact->item, error) : NULL;
  g_autoptr (SwPlace) where = NULL;
  if (item == NULL || (place != 0 && (where = sw_place_get (catalogue, place, error)) == NULL))
    return FALSE;
  if (fact->place == place)
    return TRUE;
  g_autofree char *sentence = g_strdup_printf (_ ("%s: %s stands %s%s"), item->name, fact->text,
                                               where != NULL ? _ ("in ") : _ ("nobody knows where"),
                                               where != NULL ? where->path : "");
  return sw_db_run (catalogue, error, SW_STMT_FACT_SET_PLACE, "iI", id, place != 0, place)
         && sw_said_commit_found (&act, item->id, "item.fact", sentence, error);
}

gboolean
sw_fact_withdraw (SwCatalogue *catalogue, gint64 id, GError **error)
{
  gboolean withdrawn = FALSE;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwFact) fact = fact_get (catalogue, id, &withdrawn, error);
  g_autoptr (SwItem) item = fact != NULL ? sw_item_get (catalogue, fact->item, error) : NULL;
  if (item == NULL)
    return FALSE;
  if (withdrawn)
    return TRUE;
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s: withdrawn: %s: %s"), item->name, fact->kind, fact->text);
  return sw_db_run (catalogue, error, SW_STMT_FACT_WITHDRAW, "ii", id,
                    sw_catalogue_now (catalogue).us)
         && sw_said_commit_found (&act, item->id, "item.fact", sentence, error);
}

/* The standing fact of that kind, 0 for none. */
static gboolean
fact_of_kind (SwCatalogue *catalogue, gint64 item, const char *kind, gint64 *out_id, GError **error)
{
  gboolean found = FALSE;
  *out_id = 0;
  return sw_db_get_int (catalogue, out_id, &found, error, SW_STMT_FACT_OF_KIND, "it", item, kind);
}

gboolean
sw_fact_set (SwCatalogue *catalogue, gint64 item, const char *kind, const char *text,
             const char *source, const char *by_whom, GError **error)
{
  gint64 id = 0;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error) || !fact_of_kind (catalogue, item, kind, &id, error))
    return FALSE;
  gboolean nothing = text == NULL || *text == '\0';
  gboolean ok = TRUE;
  if (id != 0 && nothing)
    ok = sw_fact_withdraw (catalogue, id, error);
  else if (id != 0)
    ok = sw_fact_edit (catalogue, id, text, source, by_whom, error);
  else if (!nothing)
    ok = sw_fact_add (catalogue, item, kind, text, source, by_whom, NULL, error);
  if (!ok)
    return FALSE;
  g_autoptr (SwItem) found = sw_item_get (catalogue, item, error);
  if (found == NULL)
    return FALSE;
  g_autofree char *sentence
      = g_strdup_printf ("%s: %s: %s", found->name, kind, nothing ? _ ("withdrawn") : text);
  return sw_act_commit (&act, sentence, error);
}

GPtrArray *
sw_fact_list (SwCatalogue *catalogue, gint64 item, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_FACT_LIST, "i", item);
  return sw_db_collect (catalogue, &use, (SwRowFunc)fact_from_row, (GDestroyNotify)sw_fact_free,
                        error);
}

static gpointer
text_from_row (const SwUse *use)
{
  return sw_col_text (use, 0);
}

GPtrArray *
sw_fact_texts (SwCatalogue *catalogue, const char *kind, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_FACT_TEXTS, "t", kind);
  return sw_db_collect (catalogue, &use, text_from_row, g_free, error);
}
