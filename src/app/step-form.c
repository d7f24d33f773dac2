/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The little forms of steps. Checks only that something readable stands in a field; the rules are
 * core's. */
#include "app/step-form.h"

#include "app/item-acts.h"
#include "app/text.h"
#include "app/typed-day.h"

struct _SwStepForm
{
  GtkPopover parent;
  SwStore *store;
  gint64 item, count;
  SwState to;
  GtkWidget *grid, *problem;
  GtkWidget *first, *second, *third; /* entries in the order asked */
  int row;
};

G_DEFINE_TYPE (SwStepForm, sw_step_form, GTK_TYPE_POPOVER)

static GtkWidget *
add_entry (SwStepForm *self, const char *text, const char *hint)
{
  GtkWidget *label = gtk_label_new_with_mnemonic (text);
  GtkWidget *entry = gtk_entry_new ();

  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), entry);
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), hint);
  gtk_entry_set_activates_default (GTK_ENTRY (entry), TRUE);
  gtk_grid_attach (GTK_GRID (self->grid), label, 0, self->row, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), entry, 1, self->row, 1, 1);
  self->row++;
  return entry;
}

static void
say (SwStepForm *self, const char *sentence)
{
  gtk_label_set_text (GTK_LABEL (self->problem), sentence);
  gtk_widget_show (self->problem);
}

static gboolean
take_hold (SwStepForm *self)
{
  const char *who = gtk_entry_get_text (GTK_ENTRY (self->first));
  const char *until = gtk_entry_get_text (GTK_ENTRY (self->second));
  g_autoptr (GError) error = NULL;

  if (*who == '\0')
    {
      say (self, _ ("Say for whom it is kept back."));
      return FALSE;
    }
  if (!sw_typed_day_check (until, &error))
    {
      say (self, error->message);
      return FALSE;
    }
  sw_act_item_move (self->store, self->item, self->to, self->count, until, who);
  return TRUE;
}

static gboolean
take_sale (SwStepForm *self)
{
  g_autoptr (GError) error = NULL;
  SwMoney amount;

  if (!sw_store_parse_money (self->store, gtk_entry_get_text (GTK_ENTRY (self->first)), &amount,
                             &error))
    {
      say (self, error->message);
      return FALSE;
    }
  sw_act_item_sold (self->store, self->item, self->count, amount,
                    gtk_entry_get_text (GTK_ENTRY (self->second)),
                    gtk_entry_get_text (GTK_ENTRY (self->third)));
  return TRUE;
}

static void
on_take (SwStepForm *self)
{
  if (self->to == SW_STATE_SOLD ? take_sale (self) : take_hold (self))
    gtk_popover_popdown (GTK_POPOVER (self));
}

static void
sw_step_form_dispose (GObject *object)
{
  g_clear_object (&SW_STEP_FORM (object)->store);
  G_OBJECT_CLASS (sw_step_form_parent_class)->dispose (object);
}

static void
sw_step_form_class_init (SwStepFormClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_step_form_dispose;
}

static void
sw_step_form_init (SwStepForm *self)
{
  self->grid = gtk_grid_new ();
  gtk_grid_set_row_spacing (GTK_GRID (self->grid), 8);
  gtk_grid_set_column_spacing (GTK_GRID (self->grid), 10);
  gtk_container_set_border_width (GTK_CONTAINER (self->grid), 14);
  gtk_container_add (GTK_CONTAINER (self), self->grid);
  self->problem = gtk_label_new (NULL);
  gtk_label_set_line_wrap (GTK_LABEL (self->problem), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (self->problem), 34);
  gtk_label_set_xalign (GTK_LABEL (self->problem), 0);
  gtk_style_context_add_class (gtk_widget_get_style_context (self->problem), "sw-problem");
  gtk_widget_set_no_show_all (self->problem, TRUE);
}

static void
fill (SwStepForm *self)
{
  GtkWidget *button
      = gtk_button_new_with_mnemonic (self->to == SW_STATE_SOLD ? _ ("_Sold") : _ ("_Keep back"));

  if (self->to == SW_STATE_SOLD)
    {
      self->first = add_entry (self, _ ("_Amount"), sw_store_overview (self->store)->currency.code);
      self->second = add_entry (self, _ ("_Outlet"), _ ("none: by hand"));
      self->third = add_entry (self, _ ("_Buyer"), _ ("may stay empty"));
    }
  else
    {
      self->first = add_entry (self, _ ("_For"), _ ("whom"));
      self->second = add_entry (self, _ ("_Until"), _ (SW_DAY_HINT));
    }
  gtk_grid_attach (GTK_GRID (self->grid), self->problem, 0, self->row++, 2, 1);
  gtk_style_context_add_class (gtk_widget_get_style_context (button),
                               GTK_STYLE_CLASS_SUGGESTED_ACTION);
  gtk_widget_set_halign (button, GTK_ALIGN_END);
  gtk_grid_attach (GTK_GRID (self->grid), button, 0, self->row, 2, 1);
  gtk_widget_set_can_default (button, TRUE);
  gtk_popover_set_default_widget (GTK_POPOVER (self), button);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_take), self);
}

static gboolean
destroy_now (gpointer self)
{
  gtk_widget_destroy (self);
  g_object_unref (self);
  return G_SOURCE_REMOVE;
}

/* Not at once: the popover still folds itself away after it has said that it is closed. */
static void
on_closed (SwStepForm *self)
{
  g_idle_add (destroy_now, g_object_ref (self));
}

gboolean
sw_step_form_is_for (SwState to)
{
  return to == SW_STATE_ON_HOLD || to == SW_STATE_SOLD;
}

void
sw_step_form_ask (GtkWidget *around, GtkWidget *button, SwStore *store, gint64 item, gint64 count,
                  SwState to)
{
  SwStepForm *self = g_object_new (SW_TYPE_STEP_FORM, "relative-to", around, NULL);
  GdkRectangle at
      = { 0, 0, gtk_widget_get_allocated_width (button), gtk_widget_get_allocated_height (button) };

  gtk_widget_translate_coordinates (button, around, 0, 0, &at.x, &at.y);
  gtk_popover_set_pointing_to (GTK_POPOVER (self), &at);

  self->store = g_object_ref (store);
  self->item = item;
  self->count = count;
  self->to = to;
  fill (self);
  gtk_widget_show_all (self->grid);
  g_signal_connect (self, "closed", G_CALLBACK (on_closed), NULL);
  gtk_popover_popup (GTK_POPOVER (self));
  gtk_widget_grab_focus (self->first);
}
