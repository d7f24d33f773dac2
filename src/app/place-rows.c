/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Boxes and rows of places. Rows keep their own text: they are few, and outlive the overview. */
#include "app/place-rows.h"

#include "app/place-words.h"

GArray *
sw_place_boxes_new (SwStore *store, const SwWalkWords *walk)
{
  const GPtrArray *places = sw_store_overview (store)->places;
  GArray *boxes = g_array_sized_new (FALSE, TRUE, sizeof (SwPlanBox), places->len);

  g_array_set_clear_func (boxes, (GDestroyNotify)sw_plan_box_clear);
  for (guint i = 0; i < places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (places, i);
      const SwPlaceSummary *summary = sw_store_summary (store, place->id);
      SwPlanBox box = { .id = place->id, .parent = place->parent, .left = -1 };
      box.off_property = place->off_property;
      box.stored = place->has_box;
      box.x = place->box_x;
      box.y = place->box_y;
      box.w = place->box_w;
      box.h = place->box_h;
      box.name = g_strdup (place->name);
      box.standing = sw_place_words_standing_short (summary);
      box.waits = sw_place_words_waits (summary);
      box.worth = sw_place_words_worth (store, summary);
      box.icon = sw_place_status_icon (summary != NULL ? summary->status : SW_PLACE_NOT_WALKED);
      box.sentence
          = sw_place_words_sentence (store, place, summary, sw_walk_words_of (walk, place->id));
      if (summary != NULL && summary->items > 0)
        box.left = (double)summary->standing / summary->items;
      g_array_append_val (boxes, box);
    }
  sw_plan_layout ((SwPlanBox *)(gpointer)boxes->data, boxes->len);
  return boxes;
}

/* ---- rows ---- */

typedef struct
{
  gint64 place;
  char *title, *trail, *detail, *sentence;
  const char *icon;
  gboolean done;
} Row;

static void
row_free (gpointer data)
{
  Row *row = data;

  g_free (row->title);
  g_free (row->trail);
  g_free (row->detail);
  g_free (row->sentence);
  g_free (row);
}

static SwRowKind
kind (gpointer data, guint i)
{
  return SW_ROW_LINE;
}

static gint64
key (gpointer data, guint i)
{
  return ((const Row *)g_ptr_array_index ((GPtrArray *)data, i))->place;
}

static void
face (gpointer data, guint i, SwRowFace *out_face)
{
  const Row *row = g_ptr_array_index ((GPtrArray *)data, i);

  out_face->title = g_strdup (row->title);
  out_face->trail = g_strdup (row->trail);
  out_face->icon = row->icon;
  out_face->detail = g_strdup (row->detail);
  out_face->sentence = g_strdup (row->sentence);
  out_face->done = row->done;
}

static const SwRowsFuncs funcs = { kind, key, face };

static Row *
row_new (SwStore *store, const SwPlace *place, const SwWalkWords *walk)
{
  const SwPlaceSummary *summary = sw_store_summary (store, place->id);
  g_autofree char *standing = sw_place_words_standing (summary);
  g_autofree char *waits = sw_place_words_waits (summary);
  Row *row = g_new0 (Row, 1);

  row->place = place->id;
  row->title = g_strdup (place->path);
  row->trail = sw_place_words_worth (store, summary);
  row->icon = sw_place_status_icon (summary != NULL ? summary->status : SW_PLACE_NOT_WALKED);
  row->detail
      = waits != NULL ? g_strdup_printf ("%s, %s", standing, waits) : g_steal_pointer (&standing);
  row->sentence
      = sw_place_words_sentence (store, place, summary, sw_walk_words_of (walk, place->id));
  row->done = summary != NULL && summary->status == SW_PLACE_EMPTY;
  return row;
}

static void
rows_free (gpointer data)
{
  g_ptr_array_unref (data);
}

SwRows *
sw_place_rows_new (SwStore *store, const SwWalkWords *walk)
{
  const GPtrArray *places = sw_store_overview (store)->places;
  GPtrArray *rows = g_ptr_array_new_with_free_func (row_free);

  for (guint i = 0; i < places->len; i++)
    g_ptr_array_add (rows, row_new (store, g_ptr_array_index (places, i), walk));
  return sw_rows_new (rows->len, &funcs, rows, rows_free);
}
