/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads and packs; what may be done and how it is said is core's. */
#include "app/decide-data.h"

#include "core/catalogue/facts.h"
#include "core/catalogue/like-things.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/ready.h"
#include "core/trade/taking-back.h"

/* Like things shown beside a find. */
#define LIKE_AT_MOST 5
/* Own names offered; past this typing them in full is quicker than reading the list. */
#define NAMES_AT_MOST 2000

void
sw_decide_data_free (gpointer data)
{
  SwDecideData *self = data;

  if (self == NULL)
    return;
  g_clear_pointer (&self->sheet, sw_sheet_data_free);
  for (int i = 0; i < SW_N_DECIDE_FIELDS; i++)
    sw_decide_value_clear (&self->values[i]);
  g_free (self->lacks);
  g_free (self->blocked);
  g_clear_pointer (&self->round, sw_decide_free);
  g_clear_pointer (&self->like, g_ptr_array_unref);
  g_clear_pointer (&self->outlets, g_ptr_array_unref);
  g_clear_pointer (&self->people, g_ptr_array_unref);
  g_clear_pointer (&self->names, g_ptr_array_unref);
  g_clear_pointer (&self->conditions, g_ptr_array_unref);
  g_clear_pointer (&self->faults, g_ptr_array_unref);
  g_free (self);
}

/* ---- reading ---- */

static gboolean
has_item (const SwDecideRound *round, gint64 item)
{
  for (guint i = 0; i < round->items->len; i++)
    if (g_array_index (round->items, SwDecideItem, i).item == item)
      return TRUE;
  return FALSE;
}

/* The photo that stands for the item comes first, the others stay in their order. */
static void
put_cover_first (SwSheetData *sheet)
{
  for (guint i = 1; i < sheet->n_photos; i++)
    if (sheet->photos[i] == sheet->item->first_photo)
      {
        gint64 photo = sheet->photos[i];
        char *caption = sheet->captions[i];
        for (guint k = i; k > 0; k--)
          {
            sheet->photos[k] = sheet->photos[k - 1];
            sheet->captions[k] = sheet->captions[k - 1];
          }
        sheet->photos[0] = photo;
        sheet->captions[0] = caption;
      }
}

static gboolean
read_item (SwCatalogue *catalogue, SwDecideData *self, gint64 item, GError **error)
{
  self->sheet = sw_sheet_data_read (catalogue, &item, NULL, error);
  if (self->sheet == NULL)
    return FALSE;
  put_cover_first (self->sheet);
  for (int i = 0; i < SW_N_DECIDE_FIELDS; i++)
    if (!sw_decide_value_get (catalogue, item, (SwDecideField)i, &self->values[i], error))
      return FALSE;
  self->lacks = sw_ready_lacking_words (sw_item_lacks (self->sheet->item));
  if (self->lacks == NULL)
    self->blocked = sw_item_why_not (catalogue, self->sheet->item, SW_STATE_READY, TRUE);
  self->like = sw_like_things (catalogue, item, LIKE_AT_MOST, error);
  return self->like != NULL;
}

/* Given names, the latest first, each once. */
static GPtrArray *
own_names (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, NULL, error);
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  GPtrArray *names;

  if (items == NULL)
    return NULL;
  names = g_ptr_array_new_with_free_func (g_free);
  for (guint i = items->len; i-- > 0 && names->len < NAMES_AT_MOST;)
    {
      const SwItem *item = g_ptr_array_index (items, i);
      if (!item->neutral && g_hash_table_add (seen, item->name))
        g_ptr_array_add (names, g_strdup (item->name));
    }
  return names;
}

static gboolean
read_words (SwCatalogue *catalogue, SwDecideData *self, GError **error)
{
  return (self->names = own_names (catalogue, error)) != NULL
         && (self->conditions = sw_fact_texts (catalogue, SW_FACT_CONDITION, error)) != NULL
         && (self->faults = sw_fact_texts (catalogue, SW_FACT_WRONG, error)) != NULL;
}

/* Where nothing was asked for: where the person stood, if that is still to be decided. */
static gint64
which_item (SwCatalogue *catalogue, const SwDecideData *self, const SwDecideWish *wish)
{
  g_autoptr (SwItem) wished = wish->item != 0 ? sw_item_get (catalogue, wish->item, NULL) : NULL;

  if (wished != NULL)
    return wished->id;
  if (has_item (self->round, self->mark.item))
    return self->mark.item;
  return self->round->items->len > 0 ? g_array_index (self->round->items, SwDecideItem, 0).item : 0;
}

/* Where nothing is left of what was asked for, all that is left. */
static gboolean
read_round (SwCatalogue *catalogue, SwDecideData *self, const SwDecideWish *wish, GError **error)
{
  self->round = sw_decide_read (catalogue, wish->place, wish->trip, self->mark.order, error);
  if (self->round == NULL || self->round->items->len > 0 || (wish->place == 0 && wish->trip == 0))
    return self->round != NULL;
  self->widened = TRUE;
  g_clear_pointer (&self->round, sw_decide_free);
  self->round = sw_decide_read (catalogue, 0, 0, self->mark.order, error);
  return self->round != NULL;
}

gpointer
sw_decide_data_read (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable,
                     GError **error)
{
  const SwDecideWish *wish = data;
  g_autoptr (SwDecideData) self = g_new0 (SwDecideData, 1);
  gint64 item;

  if (!sw_decide_mark_get (catalogue, &self->mark, error))
    return NULL;
  if (wish->order >= 0)
    self->mark.order = (SwDecideOrder)wish->order;
  if (!read_round (catalogue, self, wish, error)
      || (self->outlets = sw_outlet_list (catalogue, error)) == NULL
      || (self->people = sw_people (catalogue, error)) == NULL
      || (wish->with_words && !read_words (catalogue, self, error)))
    return NULL;
  item = which_item (catalogue, self, wish);
  if (item != 0 && !read_item (catalogue, self, item, error))
    return NULL;
  return g_steal_pointer (&self);
}

/* ---- acts ---- */

void
sw_decide_value_copy (SwDecideValue *to, const SwDecideValue *from)
{
  SwDecideValue copy = { from->has, from->number, g_strdup (from->text), g_strdup (from->source),
                         g_strdup (from->by_whom) };

  sw_decide_value_clear (to);
  *to = copy;
}

typedef struct
{
  gint64 item, from;
  SwDecideField field;
  guint fields;
  SwWaits waits;
  SwDecideValue value, was;
  gboolean has_was;
} Act;

static void
act_free (gpointer data)
{
  Act *act = data;

  sw_decide_value_clear (&act->value);
  sw_decide_value_clear (&act->was);
  g_free (act);
}

static gboolean
set_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Act *act = data;

  return sw_decide_set (catalogue, act->item, act->field, &act->value,
                        act->has_was ? &act->was : NULL, error);
}

void
sw_decide_send (SwStore *store, gint64 item, SwDecideField field, const SwDecideValue *value,
                const SwDecideValue *was, GObject *owner, SwActDone done)
{
  Act *act = g_new0 (Act, 1);

  act->item = item;
  act->field = field;
  sw_decide_value_copy (&act->value, value);
  act->has_was = was != NULL;
  if (was != NULL)
    sw_decide_value_copy (&act->was, was);
  sw_store_act (store, set_run, act, act_free, owner, done);
}

static gboolean
repeat_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Act *act = data;

  return sw_decide_repeat (catalogue, act->item, act->from, act->fields, NULL, error);
}

void
sw_decide_send_repeat (SwStore *store, gint64 item, gint64 from, guint fields, GObject *owner,
                       SwActDone done)
{
  Act *act = g_new0 (Act, 1);

  act->item = item;
  act->from = from;
  act->fields = fields;
  sw_store_act (store, repeat_run, act, act_free, owner, done);
}

static gboolean
waits_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Act *act = data;
  SwItemChange change = { .waits = &act->waits };

  return sw_item_change (catalogue, act->item, &change, error);
}

void
sw_decide_send_waits (SwStore *store, gint64 item, SwWaits waits, GObject *owner, SwActDone done)
{
  Act *act = g_new0 (Act, 1);

  act->item = item;
  act->waits = waits;
  sw_store_act (store, waits_run, act, act_free, owner, done);
}

static gboolean
ready_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  return sw_item_step_by_hand (catalogue, ((const Act *)data)->item, SW_STATE_READY, NULL, NULL,
                               error);
}

void
sw_decide_send_ready (SwStore *store, gint64 item, GObject *owner, SwActDone done)
{
  Act *act = g_new0 (Act, 1);

  act->item = item;
  sw_store_act (store, ready_run, act, act_free, owner, done);
}

static gpointer
mark_run (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  return GINT_TO_POINTER (sw_decide_mark_put (catalogue, data, error));
}

/* A mark that could not be kept costs a look for the place, no more. */
static void
on_marked (GObject *object, GAsyncResult *result, gpointer store)
{
  sw_store_finish (store, result, NULL);
  g_object_unref (store);
}

void
sw_decide_send_mark (SwStore *store, const SwDecideMark *mark)
{
  sw_store_read (store, SW_RANK_KEY, mark_run, g_memdup2 (mark, sizeof *mark), g_free, NULL, NULL,
                 on_marked, g_object_ref (store));
}
