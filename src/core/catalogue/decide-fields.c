/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One reader and one writer a field, in one table; the rules of each are those of its record. */
#include "core/catalogue/decide-fields.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/db.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/questions.h"

#define FIELD_AS_WORD(tag, word) word,
static const char *const words[] = { SW_DECIDE_FIELDS (FIELD_AS_WORD) };

void
sw_decide_value_clear (SwDecideValue *value)
{
  g_clear_pointer (&value->text, g_free);
  g_clear_pointer (&value->source, g_free);
  g_clear_pointer (&value->by_whom, g_free);
  value->has = FALSE;
  value->number = 0;
}

gboolean
sw_decide_value_equal (const SwDecideValue *a, const SwDecideValue *b)
{
  if (!a->has && !b->has)
    return TRUE;
  if (a->has && b->has && a->number != 0 && b->number != 0) /* a number says it all */
    return a->number == b->number;
  return a->has == b->has && a->number == b->number && g_strcmp0 (a->text, b->text) == 0
         && g_strcmp0 (a->source, b->source) == 0 && g_strcmp0 (a->by_whom, b->by_whom) == 0;
}

/* --- reading --- */

/* The texts that are read with ", " between; source and teller are the latest's. */
static void
join (SwDecideValue *value, const char *text)
{
  char *joined = value->has ? g_strdup_printf ("%s, %s", value->text, text) : g_strdup (text);

  g_free (value->text);
  value->text = joined;
  value->has = TRUE;
}

static gboolean
read_fact (SwCatalogue *catalogue, gint64 item, const char *kind, SwDecideValue *value,
           GError **error)
{
  g_autoptr (GPtrArray) facts = sw_fact_list (catalogue, item, error);
  gboolean is_danger = strcmp (kind, SW_FACT_DANGER) == 0;

  if (facts == NULL)
    return FALSE;
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      if (strcmp (fact->kind, kind) != 0)
        continue;
      if (!is_danger) /* the latest of that kind is the one sw_fact_set changes */
        value->has = FALSE;
      join (value, fact->text);
      g_free (value->source);
      g_free (value->by_whom);
      value->source = g_strdup (fact->source);
      value->by_whom = g_strdup (fact->by_whom);
    }
  return TRUE;
}

static gboolean
read_ask (SwCatalogue *catalogue, gint64 item, SwDecideValue *value, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_QUESTION_LATEST, "i", item);
  gboolean row = FALSE;

  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  if (!row)
    return TRUE;
  value->has = TRUE;
  value->text = sw_col_text (&use, 0);
  value->by_whom = sw_col_text (&use, 1);
  return TRUE;
}

static gboolean
read_jobs (SwCatalogue *catalogue, gint64 item, SwDecideValue *value, GError **error)
{
  g_autoptr (GPtrArray) jobs = sw_job_list (catalogue, item, error);

  if (jobs == NULL)
    return FALSE;
  for (guint i = 0; i < jobs->len; i++)
    {
      const SwJob *job = g_ptr_array_index (jobs, i);
      g_autofree char *text
          = g_strdup_printf ("%s%s%s", job->kind, *job->text != '\0' ? " " : "", job->text);
      if (!job->done)
        join (value, text);
    }
  return TRUE;
}

/* What the item's own row says. */
static void
read_item (const SwItem *item, SwDecideField field, SwDecideValue *value)
{
  switch (field)
    {
    case SW_DECIDE_NAME:
      value->has = !item->neutral;
      value->text = g_strdup (item->name);
      break;
    case SW_DECIDE_COUNT:
      value->has = TRUE;
      value->number = item->count;
      break;
    case SW_DECIDE_LIFTED:
      value->has = item->size != SW_SIZE_UNKNOWN;
      value->number = (gint64)item->size;
      break;
    case SW_DECIDE_RIDES:
      value->has = item->stows != SW_STOWS_UNKNOWN;
      value->number = (gint64)item->stows;
      break;
    case SW_DECIDE_OUTLET:
      value->has = item->outlet != 0;
      value->number = item->outlet;
      value->text = g_strdup (item->outlet_name);
      break;
    default:
      value->has = item->has_asking;
      value->number = item->has_asking ? item->asking.minor : 0;
      break;
    }
}

gboolean
sw_decide_value_get (SwCatalogue *catalogue, gint64 number, SwDecideField field,
                     SwDecideValue *out_value, GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);

  if (item == NULL)
    return FALSE;
  sw_decide_value_clear (out_value);
  switch (field)
    {
    case SW_DECIDE_CONDITION:
      return read_fact (catalogue, number, SW_FACT_CONDITION, out_value, error);
    case SW_DECIDE_WRONG:
      return read_fact (catalogue, number, SW_FACT_WRONG, out_value, error);
    case SW_DECIDE_DANGER:
      return read_fact (catalogue, number, SW_FACT_DANGER, out_value, error);
    case SW_DECIDE_ASK:
      return read_ask (catalogue, number, out_value, error);
    case SW_DECIDE_JOB:
      return read_jobs (catalogue, number, out_value, error);
    default:
      read_item (item, field, out_value);
      return TRUE;
    }
}

/* --- setting --- */

static const char *
source_of (const SwDecideValue *value)
{
  return value->source != NULL ? value->source : "seen";
}

static gboolean
set_fact (SwCatalogue *catalogue, gint64 item, const char *kind, const SwDecideValue *value,
          GError **error)
{
  return sw_fact_set (catalogue, item, kind, value->has ? value->text : NULL, source_of (value),
                      value->by_whom, error);
}

/* The standing danger of that word said from that source; 0: none. */
static gboolean
danger_said (SwCatalogue *catalogue, gint64 item, const SwDecideValue *value, gint64 *out_id,
             GError **error)
{
  g_autoptr (GPtrArray) facts = sw_fact_list (catalogue, item, error);

  *out_id = 0;
  if (facts == NULL)
    return FALSE;
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      if (strcmp (fact->kind, SW_FACT_DANGER) == 0 && sw_text_same_name (fact->text, value->text)
          && strcmp (fact->source, source_of (value)) == 0)
        *out_id = fact->id;
    }
  return TRUE;
}

static gboolean
set_danger (SwCatalogue *catalogue, gint64 item, const SwDecideValue *value, GError **error)
{
  gint64 said = 0;

  if (!danger_said (catalogue, item, value, &said, error))
    return FALSE;
  return said != 0 ? sw_fact_withdraw (catalogue, said, error)
                   : sw_danger_add (catalogue, item, value->text, source_of (value), value->by_whom,
                                    error);
}

/* "measure the bed": the kind is the longest of the kinds that it begins with. */
static gboolean
set_job (SwCatalogue *catalogue, gint64 item, const SwDecideValue *value, GError **error)
{
  const char *const *kinds = sw_job_kinds ();
  const char *kind = NULL;
  g_autofree char *tidy = sw_text_tidy (value->text);

  for (int i = 0; kinds[i] != NULL; i++)
    {
      gsize length = strlen (kinds[i]);
      if (g_ascii_strncasecmp (tidy, kinds[i], length) == 0
          && (tidy[length] == '\0' || tidy[length] == ' ')
          && (kind == NULL || length > strlen (kind)))
        kind = kinds[i];
    }
  if (kind != NULL)
    return sw_job_add (catalogue, item, 0, kind, g_strchug (tidy + strlen (kind)), NULL, error);
  g_autofree char *all = g_strjoinv (", ", (char **)kinds);
  g_autofree char *shown = sw_text_quote (tidy);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("A job begins with one of %s, not %s."), all,
               shown);
  return FALSE;
}

/* By number, or by name without case. */
static gboolean
find_outlet (SwCatalogue *catalogue, const SwDecideValue *value, gint64 *out_id, GError **error)
{
  *out_id = value->number;
  if (value->number != 0 || !value->has)
    return TRUE;
  g_autoptr (GPtrArray) outlets = sw_outlet_list (catalogue, error);
  if (outlets == NULL)
    return FALSE;
  for (guint i = 0; i < outlets->len; i++)
    {
      const SwOutlet *outlet = g_ptr_array_index (outlets, i);
      if (sw_text_same_name (outlet->name, value->text))
        *out_id = outlet->id;
    }
  if (*out_id != 0)
    return TRUE;
  g_autofree char *shown = sw_text_quote (value->text);
  g_set_error (
      error, SW_ERROR, SW_ERROR_NOT_FOUND,
      _ ("There is no outlet %s; choose one that is there, or book it with its terms first."),
      shown);
  return FALSE;
}

static gboolean
set_item (SwCatalogue *catalogue, gint64 item, SwDecideField field, const SwDecideValue *value,
          GError **error)
{
  SwMoney asking = sw_money (value->number);
  SwSize size = (SwSize)value->number;
  SwStows stows = (SwStows)value->number;
  gint64 outlet = 0;
  SwItemChange change = { 0 };

  if (field == SW_DECIDE_OUTLET && !find_outlet (catalogue, value, &outlet, error))
    return FALSE;
  change.name = field == SW_DECIDE_NAME ? value->text : NULL;
  change.count = field == SW_DECIDE_COUNT ? &value->number : NULL;
  change.size = field == SW_DECIDE_LIFTED ? &size : NULL;
  change.stows = field == SW_DECIDE_RIDES ? &stows : NULL;
  change.outlet = field == SW_DECIDE_OUTLET ? &outlet : NULL;
  change.asking = field == SW_DECIDE_PRICE && value->has ? &asking : NULL;
  change.clear_asking = field == SW_DECIDE_PRICE && !value->has;
  return sw_item_change (catalogue, item, &change, error);
}

static gboolean
set_value (SwCatalogue *catalogue, gint64 item, SwDecideField field, const SwDecideValue *value,
           GError **error)
{
  switch (field)
    {
    case SW_DECIDE_CONDITION:
      return set_fact (catalogue, item, SW_FACT_CONDITION, value, error);
    case SW_DECIDE_WRONG:
      return set_fact (catalogue, item, SW_FACT_WRONG, value, error);
    case SW_DECIDE_DANGER:
      return set_danger (catalogue, item, value, error);
    case SW_DECIDE_ASK:
      return sw_question_add (catalogue, item, value->text, value->by_whom, NULL, NULL, error);
    case SW_DECIDE_JOB:
      return set_job (catalogue, item, value, error);
    default:
      return set_item (catalogue, item, field, value, error);
    }
}

/* What is added to never overwrites. */
static gboolean
is_added_to (SwDecideField field)
{
  return field == SW_DECIDE_DANGER || field == SW_DECIDE_ASK || field == SW_DECIDE_JOB;
}

static gboolean
refuse_changed (SwCatalogue *catalogue, gint64 number, SwDecideField field,
                const SwDecideValue *now, GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  g_autofree char *shown = NULL;

  if (item == NULL)
    return FALSE;
  if (!now->has)
    shown = g_strdup (_ ("nothing"));
  else if (now->text != NULL)
    shown = sw_text_quote (now->text);
  else if (field == SW_DECIDE_PRICE)
    shown = sw_money_to_person (sw_money (now->number), sw_catalogue_currency (catalogue));
  else if (field == SW_DECIDE_LIFTED)
    shown = g_strdup (_ (sw_size_word ((SwSize)now->number)));
  else if (field == SW_DECIDE_RIDES)
    shown = g_strdup (_ (sw_stows_word ((SwStows)now->number)));
  else
    shown = g_strdup_printf ("%" G_GINT64_FORMAT, now->number);
  g_set_error (error, SW_ERROR, SW_ERROR_BUSY,
               _ ("%s: its %s was changed to %s meanwhile; set it again if it is to be otherwise."),
               item->name, _ (words[field]), shown);
  return FALSE;
}

/* "Screw press: asking 120.00": the whole act for the undo line. Transfer full. */
static char *
sentence_of (SwCatalogue *catalogue, const SwItem *item, SwDecideField field,
             const SwDecideValue *value)
{
  g_autofree char *money
      = sw_money_to_person (sw_money (value->number), sw_catalogue_currency (catalogue));

  switch (field)
    {
    case SW_DECIDE_NAME:
      return g_strdup_printf (_ ("Item %" PRId64 " is called '%s' now"), item->id, item->name);
    case SW_DECIDE_COUNT:
      return g_strdup_printf (_ ("%s: count %" PRId64), item->name, item->count);
    case SW_DECIDE_LIFTED:
      return g_strdup_printf (_ ("%s: lifted by %s"), item->name,
                              value->has ? _ (sw_size_word (item->size)) : _ ("nobody knows whom"));
    case SW_DECIDE_RIDES:
      return value->has ? g_strdup_printf (_ ("%s: rides on %s"), item->name,
                                           _ (sw_stows_word (item->stows)))
                        : g_strdup_printf (_ ("%s: rides nobody knows where"), item->name);
    case SW_DECIDE_OUTLET:
      return g_strdup_printf (_ ("%s: meant for %s"), item->name,
                              item->outlet_name != NULL ? item->outlet_name : _ ("no outlet"));
    case SW_DECIDE_PRICE:
      return g_strdup_printf ("%s: %s%s", item->name,
                              value->has ? _ ("asking ") : _ ("no asking price"),
                              value->has ? money : "");
    default:
      return g_strdup_printf ("%s: %s: %s", item->name, words[field],
                              value->has && value->text != NULL ? value->text : _ ("nothing"));
    }
}

gboolean
sw_decide_set (SwCatalogue *catalogue, gint64 number, SwDecideField field,
               const SwDecideValue *value, const SwDecideValue *was, GError **error)
{
  g_auto (SwDecideValue) now = { 0 };
  g_auto (SwAct) act = SW_ACT_INIT;

  g_return_val_if_fail (field < SW_N_DECIDE_FIELDS, FALSE);
  if (!sw_act_begin (&act, catalogue, error)
      || !sw_decide_value_get (catalogue, number, field, &now, error))
    return FALSE;
  gboolean same = !is_added_to (field) && sw_decide_value_equal (&now, value);
  if (same)
    return TRUE;
  if (was != NULL && !is_added_to (field) && !sw_decide_value_equal (&now, was))
    return refuse_changed (catalogue, number, field, &now, error);
  if (!set_value (catalogue, number, field, value, error))
    return FALSE;
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL)
    return FALSE;
  g_autofree char *sentence = sentence_of (catalogue, item, field, value);
  return sw_act_commit (&act, sentence, error);
}

/* --- the same as before --- */

/* Each danger and each open job is taken over by itself. */
static gboolean
repeat_each (SwCatalogue *catalogue, gint64 item, SwDecideField field, const SwDecideValue *value,
             GError **error)
{
  g_auto (GStrv) each = g_strsplit (value->text, ", ", -1);
  g_auto (SwDecideValue) there = { 0 };

  if (!sw_decide_value_get (catalogue, item, field, &there, error))
    return FALSE;
  g_auto (GStrv) standing = g_strsplit (there.has ? there.text : "", ", ", -1);
  for (int i = 0; each[i] != NULL; i++)
    {
      SwDecideValue one = *value;
      one.text = each[i];
      if (!g_strv_contains ((const char *const *)standing, each[i])
          && !set_value (catalogue, item, field, &one, error))
        return FALSE;
    }
  return TRUE;
}

gboolean
sw_decide_repeat (SwCatalogue *catalogue, gint64 item, gint64 from, guint fields, guint *out_n,
                  GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  guint n = 0;

  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  for (int field = 0; field < SW_N_DECIDE_FIELDS; field++)
    {
      g_auto (SwDecideValue) value = { 0 };
      if ((fields & (1u << field)) == 0)
        continue;
      if (!sw_decide_value_get (catalogue, from, (SwDecideField)field, &value, error))
        return FALSE;
      if (!value.has)
        continue;
      if (!(field == SW_DECIDE_DANGER || field == SW_DECIDE_JOB
                ? repeat_each (catalogue, item, (SwDecideField)field, &value, error)
                : set_value (catalogue, item, (SwDecideField)field, &value, error)))
        return FALSE;
      n++;
    }
  g_autoptr (SwItem) source = sw_item_get (catalogue, from, error);
  g_autoptr (SwItem) target = source != NULL ? sw_item_get (catalogue, item, error) : NULL;
  if (target == NULL)
    return FALSE;
  if (n == 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("%s says nothing there that could be repeated."), source->name);
      return FALSE;
    }
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s: %u as with %s"), target->name, n, source->name);
  if (!sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_n != NULL)
    *out_n = n;
  return TRUE;
}
