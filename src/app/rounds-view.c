/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A table of what core added up for each round. */
#include "app/rounds-view.h"

#include "app/text.h"
#include "core/trade/rounds.h"

struct _SwRoundsView
{
  GtkStack parent;
  SwStore *store;
  GtkWidget *table;
};

G_DEFINE_TYPE (SwRoundsView, sw_rounds_view, GTK_TYPE_STACK)

enum
{
  TITLE,
  UP,
  OFFERED,
  SOLD,
  BEFORE,
  FEES,
  AFTER,
  N_COLUMNS
};

static const char *const heads[N_COLUMNS]
    = { N_ ("Round"),       N_ ("Up from"), N_ ("Offered"), N_ ("Sold"),
        N_ ("Before fees"), N_ ("Fees"),    N_ ("After") };

static void
add_round (SwRoundsView *self, GtkListStore *rows, const SwRoundSum *sum)
{
  g_autofree char *up = sum->has_up ? sw_day_written (sum->up) : g_strdup ("");
  g_autofree char *offered = g_strdup_printf ("%u", sum->offered);
  g_autofree char *sold = sum->running > 0
                              ? g_strdup_printf (_ ("%u, %u still run"), sum->sold, sum->running)
                              : g_strdup_printf ("%u", sum->sold);
  g_autofree char *before = sw_store_money (self->store, sum->proceeds);
  g_autofree char *fees = sw_store_money (self->store, sum->fees);
  g_autofree char *after = sw_store_money (self->store, sum->takings);

  gtk_list_store_insert_with_values (rows, NULL, -1, TITLE, sum->title, UP, up, OFFERED, offered,
                                     SOLD, sold, BEFORE, before, FEES, fees, AFTER, after, -1);
}

static gpointer
read_rounds (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  return sw_round_sums (catalogue, error);
}

static void
on_rounds (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwRoundsView) self = data;
  g_autoptr (GPtrArray) sums = NULL;
  GtkListStore *rows;

  if (self->store == NULL)
    return;
  sums = sw_store_finish (self->store, result, NULL);
  if (sums == NULL)
    return;
  rows = GTK_LIST_STORE (gtk_tree_view_get_model (GTK_TREE_VIEW (self->table)));
  gtk_list_store_clear (rows);
  for (guint i = 0; i < sums->len; i++)
    add_round (self, rows, g_ptr_array_index (sums, i));
  gtk_stack_set_visible_child_name (GTK_STACK (self), sums->len > 0 ? "rounds" : "none");
}

static void
sw_rounds_view_dispose (GObject *object)
{
  g_clear_object (&SW_ROUNDS_VIEW (object)->store);
  G_OBJECT_CLASS (sw_rounds_view_parent_class)->dispose (object);
}

static void
sw_rounds_view_class_init (SwRoundsViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_rounds_view_dispose;
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/rounds-view.ui");
  gtk_widget_class_bind_template_child (widget, SwRoundsView, table);
}

static void
add_column (SwRoundsView *self, int column)
{
  GtkCellRenderer *cell = gtk_cell_renderer_text_new ();
  GtkTreeViewColumn *made
      = gtk_tree_view_column_new_with_attributes (_ (heads[column]), cell, "text", column, NULL);

  if (column == TITLE)
    g_object_set (cell, "ellipsize", PANGO_ELLIPSIZE_END, "width-chars", 12, NULL);
  if (column >= OFFERED)
    {
      g_object_set (cell, "xalign", 1.0, NULL);
      gtk_tree_view_column_set_alignment (made, 1.0);
    }
  gtk_tree_view_column_set_expand (made, column == TITLE);
  gtk_tree_view_append_column (GTK_TREE_VIEW (self->table), made);
}

static void
sw_rounds_view_init (SwRoundsView *self)
{
  g_autoptr (GtkListStore) rows = NULL;
  GType types[N_COLUMNS];

  for (int i = 0; i < N_COLUMNS; i++)
    types[i] = G_TYPE_STRING;
  rows = gtk_list_store_newv (N_COLUMNS, types);
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_tree_view_set_model (GTK_TREE_VIEW (self->table), GTK_TREE_MODEL (rows));
  for (int i = 0; i < N_COLUMNS; i++)
    add_column (self, i);
}

GtkWidget *
sw_rounds_view_new (SwStore *store, SwPictures *pictures)
{
  SwRoundsView *self = g_object_new (SW_TYPE_ROUNDS_VIEW, NULL);

  self->store = g_object_ref (store);
  return GTK_WIDGET (self);
}

void
sw_rounds_view_load (GtkWidget *view)
{
  SwRoundsView *self = SW_ROUNDS_VIEW (view);

  sw_store_read (self->store, SW_RANK_VISIBLE, read_rounds, NULL, NULL,
                 (GDestroyNotify)g_ptr_array_unref, NULL, on_rounds, g_object_ref (self));
}

void
sw_rounds_view_focus (GtkWidget *view)
{
  gtk_widget_grab_focus (SW_ROUNDS_VIEW (view)->table);
}
