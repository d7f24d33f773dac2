/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A few lines and the next steps, the likeliest one marked. Counts nothing itself. */
#include "app/sorted-bar.h"

#include "app/text.h"
#include "core/match/strip.h"

/* Names told of a list; the rest is a number. */
#define TOLD_AT_MOST 4

struct _SwSortedBar
{
  GtkBox parent;
  SwStore *store;
  GCancellable *cancellable;
  GtkWidget *sum, *costs;
};

G_DEFINE_TYPE (SwSortedBar, sw_sorted_bar, GTK_TYPE_BOX)

/* "A, B, C, D and 3 more" */
static void
append_names (GString *text, const GPtrArray *names)
{
  for (guint i = 0; i < names->len && i < TOLD_AT_MOST; i++)
    g_string_append_printf (text, "%s%s", i == 0 ? "" : ", ",
                            (const char *)g_ptr_array_index (names, i));
  if (names->len > TOLD_AT_MOST)
    g_string_append_printf (text, _ (" and %u more"), names->len - TOLD_AT_MOST);
}

/* "18 new items (3 without a name yet), 4 known before. 6 photos show no item." and what is to be
 * seen to. */
static char *
sum_text (const SwStripSum *sum)
{
  g_autofree char *made = sw_text_count (sum->items_new, "%d new item", "%d new items");
  g_autofree char *none
      = sw_text_count (sum->without_item, "%d photo shows no item.", "%d photos show no item.");
  GString *text = g_string_new (made);

  if (sum->unnamed > 0)
    g_string_append_printf (text, _ (" (%d without a name yet)"), sum->unnamed);
  g_string_append_printf (text, _ (", %d known before."), sum->items_known);
  if (sum->without_item > 0)
    g_string_append_printf (text, " %s", none);
  if (sum->one_poor->len > 0)
    {
      g_string_append (text, _ ("\nOnly one photo, a poor one: "));
      append_names (text, sum->one_poor);
      g_string_append_c (text, '.');
    }
  if (sum->not_seen->len > 0)
    {
      g_string_append (text, _ ("\nNot walked: "));
      append_names (text, sum->not_seen);
      g_string_append_c (text, '.');
    }
  return g_string_free (text, FALSE);
}

static void
on_sum (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwSortedBar) self = data;
  g_autoptr (SwStripSum) sum
      = self->store != NULL ? sw_store_finish (self->store, result, NULL) : NULL;
  g_autofree char *text = NULL, *costs = NULL;

  if (sum == NULL)
    return;
  text = sum_text (sum);
  gtk_label_set_text (GTK_LABEL (self->sum), text);
  costs = g_strdup_printf (_ ("Enter _costs of receipts (%d)"), sum->receipts_open);
  gtk_button_set_label (GTK_BUTTON (self->costs), costs);
  gtk_widget_set_visible (self->costs, sum->receipts_open > 0);
}

static gpointer
sum_run (SwCatalogue *catalogue, gpointer trip, GCancellable *cancellable, GError **error)
{
  return sw_strip_sum_read (catalogue, *(const gint64 *)trip, error);
}

static void
free_sum (gpointer sum)
{
  sw_strip_sum_free (sum);
}

void
sw_sorted_bar_show (SwSortedBar *self, SwStore *store, gint64 trip)
{
  g_set_object (&self->store, store);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  gtk_widget_show (GTK_WIDGET (self));
  sw_store_read (store, SW_RANK_VISIBLE, sum_run, g_memdup2 (&trip, sizeof trip), g_free, free_sum,
                 self->cancellable, on_sum, g_object_ref (self));
}

/* ---- object ---- */

static GtkWidget *
add_button (GtkWidget *box, const char *label, const char *tip, const char *action)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (label);

  gtk_widget_set_tooltip_text (button, tip);
  gtk_actionable_set_detailed_action_name (GTK_ACTIONABLE (button), action);
  gtk_container_add (GTK_CONTAINER (box), button);
  return button;
}

static void
sw_sorted_bar_dispose (GObject *object)
{
  SwSortedBar *self = SW_SORTED_BAR (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->store);
  G_OBJECT_CLASS (sw_sorted_bar_parent_class)->dispose (object);
}

static void
sw_sorted_bar_class_init (SwSortedBarClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_sorted_bar_dispose;
}

static void
sw_sorted_bar_init (SwSortedBar *self)
{
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *decide;

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 8);
  self->sum = gtk_label_new (NULL);
  gtk_label_set_line_wrap (GTK_LABEL (self->sum), TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->sum), 0);
  decide = add_button (buttons, _ ("_Decide the finds (Ctrl+D)"),
                       _ ("One after the other: what it is, how many, what it should bring"),
                       "win.round");
  gtk_style_context_add_class (gtk_widget_get_style_context (decide),
                               GTK_STYLE_CLASS_SUGGESTED_ACTION);
  add_button (buttons, _ ("On to _Property"), _ ("The items in their places"),
              "win.page('property')");
  self->costs
      = add_button (buttons, "", _ ("Receipts among the photos whose cost is not entered yet"),
                    "sort.next-receipt");
  gtk_button_set_use_underline (GTK_BUTTON (self->costs), TRUE);
  gtk_container_add (GTK_CONTAINER (self), self->sum);
  gtk_container_add (GTK_CONTAINER (self), buttons);
  gtk_widget_show (self->sum);
  gtk_widget_show_all (buttons);
  gtk_widget_hide (self->costs);
  gtk_widget_set_no_show_all (self->costs, TRUE);
}
