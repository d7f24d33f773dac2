/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The form follows the store: what was set, undone or changed elsewhere shows at once, but for a
 * field that is being typed in. */
#include "app/place-form.h"

#include <string.h>

#include "app/choice.h"
#include "app/place-acts.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/base/length.h"
#include "core/base/position.h"
#include "core/catalogue/ground.h"

enum
{
  NAME,
  LENGTH,
  POSITION,
  N_ENTRIES
};

static const struct
{
  const char *label, *hint;
  SwPlaceField field;
} entries[N_ENTRIES] = {
  [NAME] = { N_ ("N_ame"), N_ ("Press house"), SW_PLACE_NAME },
  [LENGTH] = { N_ ("_Longer side"), N_ ("24 m"), SW_PLACE_LENGTH },
  [POSITION] = { N_ ("P_osition"), N_ ("-41.32, 174.81"), SW_PLACE_POSITION },
};

typedef struct
{
  GtkWidget *popover;
  SwStore *store;
  SwPlan *plan;
  gint64 place;
  GtkWidget *entries[N_ENTRIES], *shown[N_ENTRIES];
  GtkWidget *inside, *looked, *off, *from_photos, *problem, *earlier, *later, *room, *remove;
  gboolean filling;
} Form;

static void
form_free (gpointer data)
{
  Form *self = data;

  g_object_unref (self->store);
  g_clear_weak_pointer (&self->plan);
  g_free (self);
}

/* ---- filling ---- */

static char *
text_of (Form *self, int i, const SwPlace *place)
{
  const SwPlanBox *box = sw_plan_get_box (self->plan, self->place);
  gint64 scale = sw_store_overview (self->store)->um_per_unit;

  if (i == NAME)
    return g_strdup (place->name);
  if (i == LENGTH)
    return scale != 0 && box != NULL
               ? sw_length_to_text (sw_ground_mm (scale, MAX (box->w, box->h)))
               : g_strdup ("");
  return place->has_position ? sw_position_to_text (place->latitude, place->longitude)
                             : g_strdup ("");
}

static void
fill_inside (Form *self, const SwPlace *place)
{
  const GPtrArray *places = sw_store_overview (self->store)->places;

  sw_choice_begin (self->inside);
  sw_choice_add (self->inside, 0, _ ("By itself"));
  for (guint i = 0; i < places->len; i++)
    {
      const SwPlace *each = g_ptr_array_index (places, i);
      if (each->id != self->place)
        sw_choice_add (self->inside, each->id, each->path);
    }
  sw_choice_end (self->inside, place->parent);
}

static void
fill (Form *self)
{
  const SwPlace *place = sw_store_place (self->store, self->place);

  if (place == NULL || self->plan == NULL)
    {
      gtk_popover_popdown (GTK_POPOVER (self->popover));
      return;
    }
  self->filling = TRUE;
  for (int i = 0; i < N_ENTRIES; i++)
    {
      g_autofree char *text = text_of (self, i, place);
      if (gtk_widget_has_focus (self->entries[i])
          && g_strcmp0 (text, g_object_get_data (G_OBJECT (self->entries[i]), "sw-was")) == 0)
        continue; /* nothing new, and perhaps half typed */
      gtk_entry_set_text (GTK_ENTRY (self->entries[i]), text);
      g_object_set_data_full (G_OBJECT (self->entries[i]), "sw-was", g_steal_pointer (&text),
                              g_free);
    }
  fill_inside (self, place);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->looked), place->walked);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->off), place->off_property);
  gtk_widget_set_sensitive (self->off, place->parent == 0);
  gtk_widget_set_sensitive (self->entries[LENGTH], !place->off_property);
  gtk_widget_set_sensitive (self->room, !place->off_property);
  self->filling = FALSE;
}

/* ---- setting ---- */

static void
on_tried (gpointer popover, const char *problem)
{
  Form *self = g_object_get_data (popover, "sw-form");

  gtk_label_set_text (GTK_LABEL (self->problem), problem != NULL ? problem : "");
  gtk_widget_set_visible (self->problem, problem != NULL);
  if (problem != NULL)
    fill (self); /* a choice that was refused goes back */
}

static void
set (Form *self, SwPlaceField field, const char *text, gint64 number)
{
  const SwPlanBox *box = self->plan != NULL ? sw_plan_get_box (self->plan, self->place) : NULL;

  if (box != NULL)
    sw_place_act_set (self->store, self->place, field, text, number, box, G_OBJECT (self->popover),
                      on_tried);
}

static void
take_entry (Form *self, GtkWidget *entry)
{
  const char *text = gtk_entry_get_text (GTK_ENTRY (entry));
  const char *was = g_object_get_data (G_OBJECT (entry), "sw-was");

  if (g_strcmp0 (text, was) == 0)
    return;
  for (int i = 0; i < N_ENTRIES; i++)
    if (self->entries[i] == entry)
      set (self, entries[i].field, text, 0);
}

static void
on_entry_activate (GtkWidget *entry, Form *self)
{
  take_entry (self, entry);
}

static gboolean
on_entry_left (GtkWidget *entry, GdkEventFocus *event, Form *self)
{
  if (!self->filling && gtk_widget_get_visible (self->popover))
    take_entry (self, entry);
  return FALSE;
}

static void
on_inside_tried (gpointer combo, const char *problem)
{
  sw_choice_settle (combo, problem == NULL);
  on_tried (gtk_widget_get_ancestor (combo, GTK_TYPE_POPOVER), problem);
}

static void
on_inside (gpointer data, gint64 place)
{
  Form *self = data;

  sw_place_act_set (self->store, self->place, SW_PLACE_INSIDE, NULL, place, NULL,
                    G_OBJECT (self->inside), on_inside_tried);
}

static void
on_check (GtkToggleButton *check, Form *self)
{
  if (!self->filling)
    set (self, GTK_WIDGET (check) == self->looked ? SW_PLACE_LOOKED : SW_PLACE_OFF, NULL,
         gtk_toggle_button_get_active (check));
}

static void
on_button (GtkWidget *button, Form *self)
{
  if (button == self->from_photos)
    set (self, SW_PLACE_FROM_PHOTOS, NULL, 0);
  else if (button == self->earlier || button == self->later)
    sw_place_act_walk (self->store, self->place, button == self->earlier ? -1 : 1);
  else if (button == self->remove)
    {
      sw_place_act_remove (self->store, self->place);
      gtk_popover_popdown (GTK_POPOVER (self->popover));
    }
  else if (self->plan != NULL)
    {
      gtk_popover_popdown (GTK_POPOVER (self->popover));
      sw_plan_draw_new (self->plan, self->place);
    }
}

/* ---- building ---- */

static void
add_row (GtkWidget *grid, int row, const char *text, GtkWidget *field)
{
  GtkWidget *label = gtk_label_new_with_mnemonic (text);

  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), field);
  gtk_style_context_add_class (gtk_widget_get_style_context (label), "dim-label");
  gtk_grid_attach (GTK_GRID (grid), label, 0, row, 1, 1);
  gtk_widget_set_hexpand (field, TRUE);
  gtk_grid_attach (GTK_GRID (grid), field, 1, row, 1, 1);
}

static GtkWidget *
button_new (Form *self, const char *text)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (text);

  g_signal_connect (button, "clicked", G_CALLBACK (on_button), self);
  return button;
}

static void
add_entries (Form *self, GtkWidget *grid)
{
  static const int rows[N_ENTRIES] = { [NAME] = 0, [LENGTH] = 2, [POSITION] = 3 };

  for (int i = 0; i < N_ENTRIES; i++)
    {
      GtkWidget *entry = self->entries[i] = gtk_entry_new ();
      gtk_entry_set_placeholder_text (GTK_ENTRY (entry), _ (entries[i].hint));
      gtk_entry_set_width_chars (GTK_ENTRY (entry), 20);
      g_signal_connect (entry, "activate", G_CALLBACK (on_entry_activate), self);
      g_signal_connect (entry, "focus-out-event", G_CALLBACK (on_entry_left), self);
      add_row (grid, rows[i], _ (entries[i].label), entry);
    }
}

static GtkWidget *
check_new (Form *self, GtkWidget *grid, int row, const char *text)
{
  GtkWidget *check = gtk_check_button_new_with_mnemonic (text);

  g_signal_connect (check, "toggled", G_CALLBACK (on_check), self);
  gtk_grid_attach (GTK_GRID (grid), check, 1, row, 1, 1);
  return check;
}

static GtkWidget *
grid_new (Form *self)
{
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 8);
  add_entries (self, grid);
  self->inside = gtk_combo_box_text_new ();
  sw_choice_set_up (self->inside, self->store, on_inside, self);
  add_row (grid, 1, _ ("_Inside"), self->inside);
  self->from_photos = button_new (self, _ ("_From its photos"));
  gtk_widget_set_halign (self->from_photos, GTK_ALIGN_START);
  gtk_grid_attach (GTK_GRID (grid), self->from_photos, 1, 4, 1, 1);
  self->looked = check_new (self, grid, 5, _ ("Loo_ked through"));
  self->off = check_new (self, grid, 6, _ ("Off the prop_erty (home, shop, yard)"));
  return grid;
}

static GtkWidget *
buttons_new (Form *self)
{
  GtkWidget *box = gtk_grid_new ();

  gtk_grid_set_row_spacing (GTK_GRID (box), 6);
  gtk_grid_set_column_spacing (GTK_GRID (box), 6);
  gtk_grid_set_column_homogeneous (GTK_GRID (box), TRUE);
  self->earlier = button_new (self, _ ("Earl_ier in the walk"));
  self->later = button_new (self, _ ("La_ter in the walk"));
  self->room = button_new (self, _ ("Dra_w a room in it"));
  self->remove = button_new (self, _ ("_Delete place"));
  gtk_grid_attach (GTK_GRID (box), self->earlier, 0, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (box), self->later, 1, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (box), self->room, 0, 1, 1, 1);
  gtk_grid_attach (GTK_GRID (box), self->remove, 1, 1, 1, 1);
  return box;
}

static GtkWidget *
content_new (Form *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);

  gtk_container_set_border_width (GTK_CONTAINER (box), 12);
  gtk_container_add (GTK_CONTAINER (box), grid_new (self));
  self->problem = sw_container_add_line (box, "", "sw-problem");
  gtk_label_set_max_width_chars (GTK_LABEL (self->problem), 36);
  gtk_container_add (GTK_CONTAINER (box), buttons_new (self));
  gtk_widget_show_all (box);
  gtk_widget_hide (self->problem);
  return box;
}

static gboolean
destroy_now (gpointer popover)
{
  gtk_widget_destroy (popover);
  return G_SOURCE_REMOVE;
}

static void
on_closed (GtkPopover *popover, Form *self)
{
  sw_choice_leave (self->inside);
  if (self->plan != NULL)
    gtk_widget_grab_focus (GTK_WIDGET (self->plan));
  g_idle_add (destroy_now, popover); /* not within its own signal */
}

static void
on_changed (SwStore *store, GtkWidget *popover)
{
  fill (g_object_get_data (G_OBJECT (popover), "sw-form"));
}

void
sw_place_form_open (SwPlan *plan, SwStore *store, gint64 place)
{
  GdkRectangle area;
  Form *self;

  if (!sw_plan_get_box_area (plan, place, &area))
    return;
  self = g_new0 (Form, 1);
  self->popover = gtk_popover_new (GTK_WIDGET (plan));
  self->store = g_object_ref (store);
  g_set_weak_pointer (&self->plan, plan);
  self->place = place;
  g_object_set_data_full (G_OBJECT (self->popover), "sw-form", self, form_free);
  gtk_container_add (GTK_CONTAINER (self->popover), content_new (self));
  atk_object_set_name (gtk_widget_get_accessible (self->popover), _ ("The place"));
  fill (self);
  gtk_popover_set_pointing_to (GTK_POPOVER (self->popover), &area);
  g_signal_connect_object (store, "changed", G_CALLBACK (on_changed), self->popover, 0);
  g_signal_connect (self->popover, "closed", G_CALLBACK (on_closed), self);
  gtk_popover_popup (GTK_POPOVER (self->popover));
  gtk_widget_grab_focus (self->entries[NAME]);
}
