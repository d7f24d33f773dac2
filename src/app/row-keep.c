/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Surfaces of rows. Draws nothing itself and does not know what a row shows but its picture. */
#include "app/row-keep.h"

typedef struct
{
  cairo_surface_t *surface;
  gint64 picture;
  guint frame; /* that showed it last */
} KeptRow;

static void
kept_row_free (gpointer data)
{
  KeptRow *row = data;

  cairo_surface_destroy (row->surface);
  g_free (row);
}

void
sw_row_keep_clear (SwRowKeep *self)
{
  g_clear_pointer (&self->rows, g_hash_table_unref);
}

void
sw_row_keep_begin (SwRowKeep *self, int width, int scale)
{
  if (self->width != width || self->scale != scale)
    sw_row_keep_clear (self);
  if (self->rows == NULL)
    self->rows = g_hash_table_new_full (NULL, NULL, NULL, kept_row_free);
  self->width = width;
  self->scale = scale;
  self->frame++;
}

cairo_surface_t *
sw_row_keep_find (SwRowKeep *self, guint row)
{
  KeptRow *kept = g_hash_table_lookup (self->rows, GUINT_TO_POINTER (row));

  if (kept == NULL)
    return NULL;
  kept->frame = self->frame;
  return kept->surface;
}

cairo_surface_t *
sw_row_keep_add (SwRowKeep *self, GdkWindow *window, guint row, int height, gint64 picture)
{
  KeptRow *kept = g_new (KeptRow, 1);

  *kept = (KeptRow){
    .surface = gdk_window_create_similar_surface (window, CAIRO_CONTENT_COLOR, self->width, height),
    .picture = picture,
    .frame = self->frame,
  };
  g_hash_table_replace (self->rows, GUINT_TO_POINTER (row), kept);
  return kept->surface;
}

static gboolean
was_not_shown (gpointer row, gpointer kept, gpointer self)
{
  return ((KeptRow *)kept)->frame != ((SwRowKeep *)self)->frame;
}

void
sw_row_keep_end (SwRowKeep *self)
{
  g_hash_table_foreach_remove (self->rows, was_not_shown, self);
}

void
sw_row_keep_told (SwRowKeep *self, guint first, guint n)
{
  GHashTableIter iter;
  gpointer row;

  if (self->rows == NULL)
    return;
  g_hash_table_iter_init (&iter, self->rows);
  while (g_hash_table_iter_next (&iter, &row, NULL))
    if (GPOINTER_TO_UINT (row) - first < n)
      g_hash_table_iter_remove (&iter);
}

void
sw_row_keep_loaded (SwRowKeep *self, gint64 picture)
{
  GHashTableIter iter;
  gpointer kept;

  if (self->rows == NULL)
    return;
  g_hash_table_iter_init (&iter, self->rows);
  while (g_hash_table_iter_next (&iter, NULL, &kept))
    if (((KeptRow *)kept)->picture == picture)
      g_hash_table_iter_remove (&iter);
}
