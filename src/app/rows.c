/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Row provider of a row list: counts, keys and faces by callback. Draws nothing, knows no core
 * type. */
#include "app/rows.h"

struct _SwRows
{
  guint count;
  const SwRowsFuncs *funcs;
  gpointer data;
  GDestroyNotify destroy;
};

void
sw_row_face_clear (SwRowFace *face)
{
  g_clear_pointer (&face->title, g_free);
  g_clear_pointer (&face->trail, g_free);
  g_clear_pointer (&face->detail, g_free);
  g_clear_pointer (&face->below, g_free);
  g_clear_pointer (&face->sentence, g_free);
}

SwRows *
sw_rows_new (guint count, const SwRowsFuncs *funcs, gpointer data, GDestroyNotify destroy)
{
  SwRows *rows = g_rc_box_new0 (SwRows);

  rows->count = count;
  rows->funcs = funcs;
  rows->data = data;
  rows->destroy = destroy;
  return rows;
}

SwRows *
sw_rows_ref (SwRows *rows)
{
  return g_rc_box_acquire (rows);
}

static void
rows_free (gpointer data)
{
  SwRows *rows = data;

  if (rows->destroy != NULL)
    rows->destroy (rows->data);
}

void
sw_rows_unref (SwRows *rows)
{
  if (rows != NULL)
    g_rc_box_release_full (rows, rows_free);
}

guint
sw_rows_count (SwRows *rows)
{
  return rows != NULL ? rows->count : 0;
}

SwRowKind
sw_rows_kind (SwRows *rows, guint i)
{
  return rows->funcs->kind (rows->data, i);
}

gint64
sw_rows_key (SwRows *rows, guint i)
{
  return rows->funcs->key (rows->data, i);
}

void
sw_rows_face (SwRows *rows, guint i, SwRowFace *out_face)
{
  *out_face = (SwRowFace){ 0 };
  rows->funcs->face (rows->data, i, out_face);
}

int
sw_rows_find (SwRows *rows, gint64 key)
{
  for (guint i = 0; i < sw_rows_count (rows); i++)
    if (sw_rows_key (rows, i) == key)
      return (int)i;
  return -1;
}
