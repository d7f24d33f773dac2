/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of deals and of the items in them. What was said of a deal afterwards is in deal-entries.c,
 * a docket's lines in dockets.c. */
#include "core/catalogue/deals.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"

#define AS_KIND_WORD(tag, word) [SW_DEAL_##tag] = word,
static const char *const kind_words[SW_N_DEAL_KINDS] = { SW_DEAL_KINDS (AS_KIND_WORD) };

#define AS_RESULT_WORD(tag, word) [SW_RESULT_##tag] = word,
static const char *const result_words[SW_N_RESULTS] = { SW_RESULTS (AS_RESULT_WORD) };

const char *
sw_deal_kind_word (SwDealKind kind)
{
  g_return_val_if_fail (kind >= 0 && kind < SW_N_DEAL_KINDS, "");
  return kind_words[kind];
}

const char *
sw_result_word (SwResult result)
{
  g_return_val_if_fail (result >= 0 && result < SW_N_RESULTS, "");
  return result_words[result];
}

gboolean
sw_result_parse (const char *word, SwResult *out_result)
{
  g_autofree char *folded = g_strdelimit (g_strdup (word), "-_", ' ');
  for (int i = 0; i < SW_N_RESULTS; i++)
    if (i != SW_RESULT_RUNNING && sw_text_same_name (result_words[i], folded))
      {
        *out_result = (SwResult)i;
        return TRUE;
      }
  return FALSE;
}

void
sw_deal_free (SwDeal *deal)
{
  if (deal == NULL)
    return;
  g_free (deal->ref);
  g_free (deal->outlet_name);
  g_free (deal->buyer);
  g_free (deal->split_rule);
  g_free (deal);
}

void
sw_deal_closing_free (SwDealClosing *closing)
{
  if (closing == NULL)
    return;
  g_free (closing->ref);
  g_free (closing);
}

static gint64
index_of (const char *const *words, int n, const char *word)
{
  for (int i = 0; word != NULL && i < n; i++)
    if (strcmp (words[i], word) == 0)
      return i;
  return 0;
}

static gboolean
read_money (const SwUse *use, int column, SwMoney *out)
{
  *out = sw_money (sw_col_int (use, column));
  return !sw_col_is_null (use, column);
}

static SwDeal *
deal_from_row (const SwUse *use)
{
  g_autofree char *kind = sw_col_text (use, 2);
  g_autofree char *result = sw_col_text (use, 9);
  SwDeal *deal = g_new0 (SwDeal, 1);
  deal->id = sw_col_int (use, 0);
  deal->ref = sw_col_text (use, 1);
  deal->kind = (SwDealKind)index_of (kind_words, SW_N_DEAL_KINDS, kind);
  deal->outlet = sw_col_int (use, 3);
  deal->outlet_name = sw_col_text (use, 4);
  deal->up = (SwDay){ (gint32)sw_col_int (use, 5) };
  deal->has_closes = !sw_col_is_null (use, 6);
  deal->closes = (SwInstant){ sw_col_int (use, 6) };
  deal->has_start = read_money (use, 7, &deal->start);
  deal->has_reserve = read_money (use, 8, &deal->reserve);
  deal->result = (SwResult)index_of (result_words, SW_N_RESULTS, result);
  deal->ended = (SwDay){ (gint32)sw_col_int (use, 10) };
  deal->ended_at = (SwInstant){ sw_col_int (use, 11) };
  deal->amount = sw_money (sw_col_int (use, 12));
  deal->delivery = sw_money (sw_col_int (use, 13));
  deal->buyer = sw_col_text (use, 14);
  deal->has_collected = !sw_col_is_null (use, 15);
  deal->collected = (SwDay){ (gint32)sw_col_int (use, 15) };
  deal->gross = (SwMass){ sw_col_int (use, 16) };
  deal->tare = (SwMass){ sw_col_int (use, 17) };
  deal->split_rule = sw_col_text (use, 18);
  return deal;
}

/* --- writing --- */

static gboolean
ensure_buyer (SwCatalogue *catalogue, const SwDeal *deal, GError **error)
{
  return deal->buyer == NULL
         || sw_db_run (catalogue, error, SW_STMT_BUYER_ENSURE, "t", deal->buyer);
}

static gboolean
add_row (SwCatalogue *catalogue, const SwDeal *deal, GError **error)
{
  gboolean ended = deal->result != SW_RESULT_RUNNING;
  gboolean docket = deal->kind == SW_DEAL_DOCKET;
  return sw_db_run (catalogue, error, SW_STMT_DEAL_ADD, "ttIiIIItIIiitIII", deal->ref,
                    kind_words[deal->kind], deal->outlet != 0, deal->outlet, (gint64)deal->up.n,
                    deal->has_closes, deal->closes.us, deal->has_start, deal->start.minor,
                    deal->has_reserve, deal->reserve.minor, result_words[deal->result], ended,
                    (gint64)deal->ended.n, ended, deal->ended_at.us, deal->amount.minor,
                    deal->delivery.minor, deal->buyer, deal->has_collected,
                    (gint64)deal->collected.n, docket, deal->gross.ug, docket, deal->tare.ug);
}

static gboolean
refuse_known (SwCatalogue *catalogue, const char *ref, GError **error)
{
  g_autoptr (SwDeal) known = NULL;
  if (!sw_deal_find (catalogue, ref, &known, error))
    return FALSE;
  if (known == NULL)
    return TRUE;
  g_autofree char *shown = sw_text_quote (ref);
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("The ref %s is booked already; give another one."), shown);
  return FALSE;
}

gboolean
sw_deal_add (SwCatalogue *catalogue, const SwDeal *deal, const SwDealItem *items, gsize n,
             gint64 *out_id, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error) || !refuse_known (catalogue, deal->ref, error)
      || !ensure_buyer (catalogue, deal, error) || !add_row (catalogue, deal, error))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  for (gsize i = 0; i < n; i++)
    if (!sw_db_run (catalogue, error, SW_STMT_DEAL_ITEM_ADD, "iit", id, items[i].item,
                    sw_state_key (items[i].before)))
      return FALSE;
  g_autofree char *sentence = g_strdup_printf (_ ("%s entered"), deal->ref);
  if (!sw_act_commit (&act, sentence, error))
    return FALSE;
  *out_id = id;
  return TRUE;
}

gboolean
sw_deal_end (SwCatalogue *catalogue, const SwDeal *deal, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence = g_strdup_printf ("%s: %s", deal->ref, result_words[deal->result]);
  return sw_act_begin (&act, catalogue, error) && ensure_buyer (catalogue, deal, error)
         && sw_db_run (catalogue, error, SW_STMT_DEAL_END, "itiiiit", deal->id,
                       result_words[deal->result], (gint64)deal->ended.n, deal->ended_at.us,
                       deal->amount.minor, deal->delivery.minor, deal->buyer)
         && sw_act_commit (&act, sentence, error);
}

gboolean
sw_deal_set_collected (SwCatalogue *catalogue, gint64 deal, SwDay day, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_DEAL_SET_COLLECTED, "ii", deal, (gint64)day.n)
         && sw_act_commit (&act, _ ("Collected"), error);
}

gboolean
sw_deal_set_split (SwCatalogue *catalogue, gint64 deal, const char *rule, const GArray *items,
                   GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error)
      || !sw_db_run (catalogue, error, SW_STMT_DEAL_SET_RULE, "it", deal, rule))
    return FALSE;
  for (guint i = 0; i < items->len; i++)
    {
      const SwDealItem *item = &g_array_index (items, SwDealItem, i);
      if (!sw_db_run (catalogue, error, SW_STMT_DEAL_ITEM_SET_WEIGHT, "iii", deal, item->item,
                      item->weight))
        return FALSE;
    }
  return sw_act_commit (&act, _ ("Split"), error);
}

/* --- reading --- */

static void
add_name (GString *names, const char *name)
{
  if (names->len > 0)
    g_string_append (names, " + ");
  g_string_append (names, name);
}

GArray *
sw_deal_item_numbers (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  g_autoptr (GArray) items = sw_deal_items (catalogue, deal, error);
  GArray *numbers = items != NULL ? g_array_new (FALSE, FALSE, sizeof (gint64)) : NULL;
  for (guint i = 0; items != NULL && i < items->len; i++)
    g_array_append_val (numbers, g_array_index (items, SwDealItem, i).item);
  return numbers;
}

char *
sw_deal_item_names (const GArray *items)
{
  GString *names = g_string_new (NULL);
  for (guint i = 0; i < items->len; i++)
    add_name (names, g_array_index (items, SwDealItem, i).name);
  return g_string_free (names, FALSE);
}

gboolean
sw_deal_find (SwCatalogue *catalogue, const char *ref, SwDeal **out_deal, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_DEAL_FIND, "t", ref);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  *out_deal = row ? deal_from_row (&use) : NULL;
  return TRUE;
}

SwDeal *
sw_deal_get (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_DEAL_GET, "i", id);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return NULL;
  if (row)
    return deal_from_row (&use);
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
               _ ("There is no offer, sale or docket with the inner number %" PRId64 "."), id);
  return NULL;
}

static GPtrArray *
list_deals (SwCatalogue *catalogue, SwStatementId id, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, id, "");
  return sw_db_collect (catalogue, &use, (SwRowFunc)deal_from_row, (GDestroyNotify)sw_deal_free,
                        error);
}

GPtrArray *
sw_deal_list (SwCatalogue *catalogue, GError **error)
{
  return list_deals (catalogue, SW_STMT_DEAL_LIST, error);
}

GPtrArray *
sw_deal_list_running (SwCatalogue *catalogue, GError **error)
{
  return list_deals (catalogue, SW_STMT_DEAL_LIST_RUNNING, error);
}

GPtrArray *
sw_deal_list_closing (SwCatalogue *catalogue, SwInstant from, SwInstant until, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_DEALS_CLOSING, "ii", from.us, until.us);
  return sw_db_collect (catalogue, &use, (SwRowFunc)deal_from_row, (GDestroyNotify)sw_deal_free,
                        error);
}

GPtrArray *
sw_deal_list_outlet (SwCatalogue *catalogue, gint64 outlet, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_DEALS_OF_OUTLET, "i", outlet);
  return sw_db_collect (catalogue, &use, (SwRowFunc)deal_from_row, (GDestroyNotify)sw_deal_free,
                        error);
}

char *
sw_deal_free_ref (SwCatalogue *catalogue, const char *prefix, GError **error)
{
  gint64 last = 0;
  if (!sw_db_get_int (catalogue, &last, NULL, error, SW_STMT_DEAL_LAST_ID, ""))
    return NULL;
  for (gint64 n = last + 1;; n++)
    {
      g_autofree char *ref = g_strdup_printf ("%s%" G_GINT64_FORMAT, prefix, n);
      g_autoptr (SwDeal) known = NULL;
      if (!sw_deal_find (catalogue, ref, &known, error))
        return NULL;
      if (known == NULL)
        return g_steal_pointer (&ref);
    }
}

GPtrArray *
sw_deal_closings (SwCatalogue *catalogue, gint64 outlet, GError **error)
{
  g_autoptr (GPtrArray) closings
      = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_deal_closing_free);
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_DEAL_CLOSINGS, "i", outlet);
  gboolean ok = TRUE;
  while (sw_db_next (catalogue, &use, &ok, error))
    {
      SwDealClosing *closing = g_new0 (SwDealClosing, 1);
      closing->deal = sw_col_int (&use, 0);
      closing->ref = sw_col_text (&use, 1);
      closing->closes = (SwInstant){ sw_col_int (&use, 2) };
      closing->item = sw_col_int (&use, 3);
      closing->up = (SwDay){ (gint32)sw_col_int (&use, 4) };
      closing->running = sw_col_int (&use, 5) != 0;
      g_ptr_array_add (closings, closing);
    }
  return ok ? g_steal_pointer (&closings) : NULL;
}

static void
clear_deal_item (gpointer data)
{
  SwDealItem *item = data;
  g_free (item->name);
}

GArray *
sw_deal_items (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  g_autoptr (GArray) items = g_array_new (FALSE, TRUE, sizeof (SwDealItem));
  g_array_set_clear_func (items, clear_deal_item);
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_DEAL_ITEMS, "i", deal);
  gboolean ok = TRUE;
  while (sw_db_next (catalogue, &use, &ok, error))
    {
      SwDealItem item = { 0 };
      g_autofree char *before = sw_col_text (&use, 1);
      g_autofree char *state = sw_col_text (&use, 3);
      item.item = sw_col_int (&use, 0);
      item.name = sw_col_text (&use, 6);
      if (!sw_state_from_key (before, &item.before))
        item.before = SW_STATE_FOUND;
      if (!sw_state_from_key (state, &item.state))
        item.state = SW_STATE_FOUND;
      item.weight = sw_col_is_null (&use, 2) ? -1 : sw_col_int (&use, 2);
      item.has_asking = read_money (&use, 4, &item.asking);
      item.has_mass = !sw_col_is_null (&use, 5);
      item.mass = (SwMass){ sw_col_int (&use, 5) };
      g_array_append_val (items, item);
    }
  return ok ? g_steal_pointer (&items) : NULL;
}

static GArray *
list_ids (SwCatalogue *catalogue, SwStatementId id, gint64 of, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, id, "i", of);
  return sw_db_collect_ids (catalogue, &use, error);
}

GArray *
sw_deal_running (SwCatalogue *catalogue, gint64 item, GError **error)
{
  return list_ids (catalogue, SW_STMT_DEAL_RUNNING, item, error);
}

GArray *
sw_deal_of_item (SwCatalogue *catalogue, gint64 item, GError **error)
{
  return list_ids (catalogue, SW_STMT_DEAL_OF_ITEM, item, error);
}

GArray *
sw_deal_standing_sales (SwCatalogue *catalogue, gint64 item, GError **error)
{
  return list_ids (catalogue, SW_STMT_DEAL_STANDING, item, error);
}

void
sw_gone_item_free (SwGoneItem *gone)
{
  if (gone == NULL)
    return;
  g_free (gone->scrap_class);
  g_free (gone);
}

static SwGoneItem *
gone_from_row (const SwUse *use, gint64 item)
{
  SwGoneItem *gone = g_new0 (SwGoneItem, 1);
  gone->item = item;
  gone->scrapped = sw_col_int (use, 1) != 0;
  gone->day = (SwDay){ (gint32)sw_col_int (use, 2) };
  gone->scrap_class = sw_col_text (use, 3);
  gone->has_mass = !sw_col_is_null (use, 4);
  gone->mass = (SwMass){ sw_col_int (use, 4) };
  return gone;
}

GPtrArray *
sw_deal_gone_items (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_gone_item_free);
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_DEAL_GONE_ITEMS, "");
  gint64 last = 0;
  gboolean ok = TRUE;
  while (sw_db_next (catalogue, &use, &ok, error))
    {
      gint64 item = sw_col_int (&use, 0);
      if (list->len == 0 || item != last)
        g_ptr_array_add (list, gone_from_row (&use, item));
      last = item;
    }
  return ok ? g_steal_pointer (&list) : NULL;
}

void
sw_deal_label_free (SwDealLabel *label)
{
  if (label == NULL)
    return;
  g_free (label->ref);
  g_free (label->items);
  g_free (label);
}

/* The row's item into the label of its deal, which the first row of the deal begins. */
static void
add_label_row (const SwUse *use, gboolean first, GString *names, GPtrArray *labels)
{
  g_autofree char *name = sw_col_text (use, 3);
  if (first)
    {
      SwDealLabel *label = g_new0 (SwDealLabel, 1);
      label->ref = sw_col_text (use, 1);
      label->day = (SwDay){ (gint32)sw_col_int (use, 2) };
      g_ptr_array_add (labels, label);
      g_string_truncate (names, 0);
    }
  if (name != NULL)
    add_name (names, name);
  SwDealLabel *label = g_ptr_array_index (labels, labels->len - 1);
  g_free (label->items);
  label->items = g_strdup (names->str);
}

static gboolean
fail_label (GError **error)
{
  g_set_error_literal (error, SW_ERROR, SW_ERROR_DAMAGED,
                       _ ("Money speaks of a sale that is not there; run check."));
  return FALSE;
}

static gboolean
collect_labels (SwCatalogue *catalogue, const GArray *deals, GPtrArray *labels, GError **error)
{
  g_autoptr (GString) names = g_string_new (NULL);
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_DEAL_LABELS, "");
  gboolean ok = TRUE;
  while (labels->len <= deals->len && sw_db_next (catalogue, &use, &ok, error))
    {
      gint64 deal = sw_col_int (&use, 0);
      guint n = labels->len;
      if (n > 0 && g_array_index (deals, gint64, n - 1) == deal)
        add_label_row (&use, FALSE, names, labels);
      else if (n < deals->len && g_array_index (deals, gint64, n) == deal)
        add_label_row (&use, TRUE, names, labels);
      else if (n == deals->len)
        break;
    }
  return ok && (labels->len == deals->len || fail_label (error));
}

GPtrArray *
sw_deal_labels (SwCatalogue *catalogue, const GArray *deals, GError **error)
{
  g_autoptr (GPtrArray) labels
      = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_deal_label_free);
  if (deals->len > 0 && !collect_labels (catalogue, deals, labels, error))
    return NULL;
  return g_steal_pointer (&labels);
}
