/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items as rows. A row's face is made when it comes into view, and so is the row read; 10,000 items
 * cost next to nothing until then. */
#include "app/item-rows.h"

#include "app/text.h"

typedef struct
{
  SwStore *store;
  SwItemList *list;
  gboolean with_place;
} Data;

static void
data_free (gpointer data)
{
  Data *self = data;
  g_object_unref (self->store);
  sw_item_list_unref (self->list);
  g_free (self);
}

static SwRowKind
kind (gpointer data, guint i)
{
  return SW_ROW_ITEM;
}

static gint64
key (gpointer data, guint i)
{
  return sw_item_list_number (((Data *)data)->list, i);
}

/* ", danger, 2 questions": what still wants care. */
static void
add_flags (GString *text, const SwItem *item)
{
  g_autofree char *questions = sw_text_count (item->n_questions, "%d question", "%d questions");
  g_autofree char *jobs = sw_text_count (item->n_jobs, "%d job", "%d jobs");

  if (item->never_offer)
    g_string_append (text, _ (", not cleared"));
  if (item->n_dangers > 0)
    g_string_append (text, _ (", danger"));
  if (item->clash)
    g_string_append (text, _ (", two claims"));
  else if (item->claim != SW_CLAIM_NONE)
    g_string_append (text, _ (", claim"));
  if (item->n_questions > 0)
    g_string_append_printf (text, ", %s", questions);
  if (item->n_jobs > 0)
    g_string_append_printf (text, ", %s", jobs);
}

/* "3 pieces, Loft, 4 photos, floor 12.00, danger": only what there is to say. */
static char *
detail (const Data *self, const SwItem *item, const SwItemWorth *worth)
{
  GString *text = g_string_new (NULL);
  g_autofree char *photos = sw_text_count (item->n_photos, "%d photo", "%d photos");

  if (item->count != 1)
    g_string_append_printf (text, _ ("%" PRId64 " pieces, "), item->count);
  if (self->with_place && item->place_path != NULL)
    g_string_append_printf (text, "%s, ", item->place_path);
  g_string_append (text, item->n_photos > 0 ? photos : _ ("no photo"));
  if (worth->has_floor)
    {
      g_autofree char *floor = sw_store_money (self->store, worth->floor);
      g_string_append_printf (text, _ (", floor %s"), floor);
    }
  add_flags (text, item);
  return g_string_free (text, FALSE);
}

static void
face (gpointer data, guint i, SwRowFace *out_face)
{
  const Data *self = data;
  const SwItem *item = sw_item_list_look (self->list, i);
  g_autofree char *money = NULL;

  if (item == NULL)
    { /* its number will do until the row is read */
      out_face->title = g_strdup_printf ("%" G_GINT64_FORMAT, sw_item_list_number (self->list, i));
      return;
    }
  out_face->title = g_strdup (item->name);
  out_face->icon = sw_state_icon (item->state);
  out_face->word = _ (sw_state_word (item->state));
  out_face->detail = detail (self, item, sw_item_list_worth (self->list, i));
  if (item->has_asking)
    {
      out_face->trail = sw_store_money (self->store, item->asking);
      money = sw_store_money_with_code (self->store, item->asking);
    }
  out_face->done = !sw_state_stands (item->state);
  out_face->picture = item->first_photo;
  out_face->sentence
      = g_strdup_printf (_ ("%s, %s, %s, %s"), item->name, out_face->word,
                         money != NULL ? money : _ ("no price yet"), out_face->detail);
}

static const SwRowsFuncs funcs = { kind, key, face };

SwRows *
sw_item_rows_new (SwStore *store, SwItemList *list, gboolean with_place)
{
  Data *data = g_new0 (Data, 1);

  data->store = g_object_ref (store);
  data->list = sw_item_list_ref (list);
  data->with_place = with_place;
  return sw_rows_new (sw_item_list_length (list), &funcs, data, data_free);
}
