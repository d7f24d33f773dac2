/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The choices of the filter. Reads amounts and masses; what they mean is core's. */
#include "app/item-filter.h"

#include "app/text.h"
#include "app/widgets.h"
#include "core/catalogue/outlets.h"

/* Amounts and masses: from, to. */
enum
{
  ASKING_FROM,
  ASKING_TO,
  MASS_FROM,
  MASS_TO,
  N_BOUNDS,
};

static const char *const bound_names[N_BOUNDS]
    = { N_ ("Asking from"), N_ ("Asking to"), N_ ("Mass from"), N_ ("Mass to") };

static const struct
{
  SwItemNeed need;
  const char *word;
} needs[] = {
  { SW_ITEM_TO_BE_PRICED, N_ ("To be priced") }, { SW_ITEM_WITH_QUESTION, N_ ("Questions open") },
  { SW_ITEM_WITH_CLAIM, N_ ("Claimed") },        { SW_ITEM_WITH_DANGER, N_ ("Danger") },
  { SW_ITEM_WITH_JOB, N_ ("Job on site") },      { SW_ITEM_WITHOUT_PHOTO, N_ ("No photo") },
  { SW_ITEM_WITHOUT_SIZE, N_ ("No size") },      { SW_ITEM_LATER, N_ ("Put off") },
};

struct _SwItemFilterBox
{
  GtkBox parent;
  SwStore *store;
  GtkWidget *button, *popover, *chips, *problem;
  GtkWidget *state, *trip, *outlet, *needs[G_N_ELEMENTS (needs)], *bounds[N_BOUNDS];
  gboolean filling;
};

enum
{
  CHANGED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwItemFilterBox, sw_item_filter, GTK_TYPE_BOX)

/* ---- chips ---- */

static void
on_chip (GtkButton *chip, SwItemFilterBox *self)
{
  GtkWidget *source = g_object_get_data (G_OBJECT (chip), "sw-source");

  if (GTK_IS_TOGGLE_BUTTON (source))
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (source), FALSE);
  else if (GTK_IS_COMBO_BOX (source))
    gtk_combo_box_set_active (GTK_COMBO_BOX (source), 0);
  else
    gtk_entry_set_text (GTK_ENTRY (source), "");
  gtk_widget_grab_focus (self->button);
}

static void
add_chip (SwItemFilterBox *self, const char *text, GtkWidget *source)
{
  GtkWidget *chip = gtk_button_new_with_label (text), *child;
  g_autofree char *name = g_strdup_printf (_ ("%s, take off"), text);
  GtkWidget *cross = gtk_image_new_from_icon_name ("window-close-symbolic", GTK_ICON_SIZE_MENU);

  gtk_button_set_image (GTK_BUTTON (chip), cross);
  gtk_button_set_image_position (GTK_BUTTON (chip), GTK_POS_RIGHT);
  gtk_button_set_always_show_image (GTK_BUTTON (chip), TRUE);
  gtk_style_context_add_class (gtk_widget_get_style_context (chip), "sw-add");
  atk_object_set_name (gtk_widget_get_accessible (chip), name);
  g_object_set_data (G_OBJECT (chip), "sw-source", source);
  g_signal_connect (chip, "clicked", G_CALLBACK (on_chip), self);
  gtk_container_add (GTK_CONTAINER (self->chips), chip);
  child = gtk_widget_get_parent (chip);
  gtk_widget_set_can_focus (child, FALSE);
  atk_object_set_role (gtk_widget_get_accessible (child), ATK_ROLE_FILLER);
  gtk_widget_show_all (child);
}

static void
fill_chips (SwItemFilterBox *self)
{
  GtkWidget *const combos[] = { self->state, self->trip, self->outlet };

  sw_container_empty (self->chips);
  for (gsize i = 0; i < G_N_ELEMENTS (combos); i++)
    if (gtk_combo_box_get_active (GTK_COMBO_BOX (combos[i])) > 0)
      {
        g_autofree char *text = gtk_combo_box_text_get_active_text (GTK_COMBO_BOX_TEXT (combos[i]));
        add_chip (self, text, combos[i]);
      }
  for (gsize i = 0; i < G_N_ELEMENTS (needs); i++)
    if (gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->needs[i])))
      add_chip (self, _ (needs[i].word), self->needs[i]);
  for (int i = 0; i < N_BOUNDS; i++)
    if (gtk_entry_get_text_length (GTK_ENTRY (self->bounds[i])) > 0)
      {
        g_autofree char *text = g_strdup_printf ("%s %s", _ (bound_names[i]),
                                                 gtk_entry_get_text (GTK_ENTRY (self->bounds[i])));
        add_chip (self, text, self->bounds[i]);
      }
  gtk_widget_set_visible (self->chips, sw_item_filter_is_set (self));
}

gboolean
sw_item_filter_is_set (SwItemFilterBox *self)
{
  g_autoptr (GList) chips = gtk_container_get_children (GTK_CONTAINER (self->chips));

  return chips != NULL;
}

/* ---- reading ---- */

/* FALSE where something stands there that cannot be read. */
static gboolean
read_bound (SwItemFilterBox *self, int bound, SwItemQuery *query, GError **error)
{
  const char *text = gtk_entry_get_text (GTK_ENTRY (self->bounds[bound]));

  if (*text == '\0')
    return TRUE;
  switch (bound)
    {
    case ASKING_FROM:
      return query->has_asking_least
             = sw_store_parse_money (self->store, text, &query->asking_least, error);
    case ASKING_TO:
      return query->has_asking_most
             = sw_store_parse_money (self->store, text, &query->asking_most, error);
    case MASS_FROM:
      return query->has_mass_least = sw_mass_parse (text, &query->mass_least, error);
    default:
      return query->has_mass_most = sw_mass_parse (text, &query->mass_most, error);
    }
}

static gint64
number_of (GtkWidget *combo)
{
  const char *id = gtk_combo_box_get_active_id (GTK_COMBO_BOX (combo));
  return id != NULL ? g_ascii_strtoll (id, NULL, 10) : 0;
}

void
sw_item_filter_apply (SwItemFilterBox *self, SwItemQuery *query)
{
  g_autoptr (GError) error = NULL;
  int state = gtk_combo_box_get_active (GTK_COMBO_BOX (self->state));

  query->has_state = state > 0;
  query->state = (SwState)MAX (0, state - 1);
  query->trip = number_of (self->trip);
  query->outlet = number_of (self->outlet);
  for (gsize i = 0; i < G_N_ELEMENTS (needs); i++)
    if (gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->needs[i])))
      query->needs |= needs[i].need;
  for (int i = 0; i < N_BOUNDS; i++)
    read_bound (self, i, query, error == NULL ? &error : NULL);
  gtk_label_set_text (GTK_LABEL (self->problem), error != NULL ? error->message : "");
  gtk_widget_set_visible (self->problem, error != NULL);
}

static void
on_changed (SwItemFilterBox *self)
{
  if (self->filling)
    return;
  fill_chips (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
clear (SwItemFilterBox *self)
{
  self->filling = TRUE;
  gtk_combo_box_set_active (GTK_COMBO_BOX (self->state), 0);
  gtk_combo_box_set_active (GTK_COMBO_BOX (self->trip), 0);
  gtk_combo_box_set_active (GTK_COMBO_BOX (self->outlet), 0);
  for (gsize i = 0; i < G_N_ELEMENTS (needs); i++)
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->needs[i]), FALSE);
  for (int i = 0; i < N_BOUNDS; i++)
    gtk_entry_set_text (GTK_ENTRY (self->bounds[i]), "");
  self->filling = FALSE;
  on_changed (self);
}

/* ---- choices ---- */

static void
fill_combo (GtkWidget *combo, const char *all)
{
  g_autofree char *chosen = g_strdup (gtk_combo_box_get_active_id (GTK_COMBO_BOX (combo)));

  g_object_set_data_full (G_OBJECT (combo), "sw-chosen", g_steal_pointer (&chosen), g_free);
  gtk_combo_box_text_remove_all (GTK_COMBO_BOX_TEXT (combo));
  gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (combo), "0", all);
}

static void
choose_again (GtkWidget *combo)
{
  const char *chosen = g_object_get_data (G_OBJECT (combo), "sw-chosen");

  if (chosen == NULL || !gtk_combo_box_set_active_id (GTK_COMBO_BOX (combo), chosen))
    gtk_combo_box_set_active (GTK_COMBO_BOX (combo), 0);
}

void
sw_item_filter_fill (SwItemFilterBox *self)
{
  const SwOverview *overview = sw_store_overview (self->store);

  self->filling = TRUE;
  fill_combo (self->trip, _ ("Every trip"));
  for (guint i = 0; i < overview->trips->len; i++)
    {
      const SwTrip *trip = g_ptr_array_index (overview->trips, i);
      g_autofree char *id = g_strdup_printf ("%" G_GINT64_FORMAT, trip->id);
      g_autofree char *text = sw_text_trip (trip);
      gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (self->trip), id, text);
    }
  choose_again (self->trip);
  self->filling = FALSE;
}

static gpointer
read_outlets (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  return sw_outlet_list (catalogue, error);
}

static void
on_outlets (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwItemFilterBox) self = data;
  g_autoptr (GPtrArray) outlets = NULL;

  if (self->store == NULL)
    return;
  outlets = sw_store_finish (self->store, result, NULL);
  if (outlets == NULL)
    return;
  self->filling = TRUE;
  fill_combo (self->outlet, _ ("Every outlet"));
  for (guint i = 0; i < outlets->len; i++)
    {
      const SwOutlet *outlet = g_ptr_array_index (outlets, i);
      g_autofree char *id = g_strdup_printf ("%" G_GINT64_FORMAT, outlet->id);
      gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (self->outlet), id, outlet->name);
    }
  choose_again (self->outlet);
  self->filling = FALSE;
}

static void
on_opened (SwItemFilterBox *self)
{
  sw_store_read (self->store, SW_RANK_VISIBLE, read_outlets, NULL, NULL,
                 (GDestroyNotify)g_ptr_array_unref, NULL, on_outlets, g_object_ref (self));
}

/* ---- object ---- */

static void
put_in (SwItemFilterBox *self, GtkWidget *grid, GtkWidget *widget, const char *name, int column,
        int row, int width)
{
  atk_object_set_name (gtk_widget_get_accessible (widget), name);
  gtk_grid_attach (GTK_GRID (grid), widget, column, row, width, 1);
  g_signal_connect_swapped (widget, GTK_IS_TOGGLE_BUTTON (widget) ? "toggled" : "changed",
                            G_CALLBACK (on_changed), self);
}

static GtkWidget *
make_choices (SwItemFilterBox *self)
{
  GtkWidget *grid = gtk_grid_new ();
  GtkWidget *all = gtk_button_new_with_label (_ ("Show all"));

  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 10);
  gtk_container_set_border_width (GTK_CONTAINER (grid), 12);
  self->state = gtk_combo_box_text_new ();
  gtk_combo_box_text_append_text (GTK_COMBO_BOX_TEXT (self->state), _ ("Every state"));
  for (int i = 0; i < SW_N_STATES; i++)
    gtk_combo_box_text_append_text (GTK_COMBO_BOX_TEXT (self->state),
                                    _ (sw_state_word ((SwState)i)));
  self->trip = gtk_combo_box_text_new ();
  self->outlet = gtk_combo_box_text_new ();
  sw_combo_keep_keyboard (self->trip);
  sw_combo_keep_keyboard (self->outlet);
  fill_combo (self->trip, _ ("Every trip"));
  fill_combo (self->outlet, _ ("Every outlet"));
  gtk_combo_box_set_active (GTK_COMBO_BOX (self->state), 0);
  gtk_combo_box_set_active (GTK_COMBO_BOX (self->trip), 0);
  gtk_combo_box_set_active (GTK_COMBO_BOX (self->outlet), 0);
  put_in (self, grid, self->state, _ ("State"), 0, 0, 2);
  put_in (self, grid, self->trip, _ ("Trip"), 0, 1, 2);
  put_in (self, grid, self->outlet, _ ("Outlet"), 0, 2, 2);
  for (gsize i = 0; i < G_N_ELEMENTS (needs); i++)
    {
      self->needs[i] = gtk_check_button_new_with_label (_ (needs[i].word));
      put_in (self, grid, self->needs[i], _ (needs[i].word), (int)i % 2, 3 + (int)i / 2, 1);
    }
  for (int i = 0; i < N_BOUNDS; i++)
    {
      self->bounds[i] = gtk_entry_new ();
      gtk_entry_set_placeholder_text (GTK_ENTRY (self->bounds[i]), _ (bound_names[i]));
      gtk_entry_set_width_chars (GTK_ENTRY (self->bounds[i]), 12);
      put_in (self, grid, self->bounds[i], _ (bound_names[i]), i % 2, 8 + i / 2, 1);
    }
  self->problem = gtk_label_new (NULL);
  gtk_label_set_line_wrap (GTK_LABEL (self->problem), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (self->problem), 34);
  gtk_widget_set_no_show_all (self->problem, TRUE);
  gtk_style_context_add_class (gtk_widget_get_style_context (self->problem), "sw-problem");
  gtk_grid_attach (GTK_GRID (grid), self->problem, 0, 10, 2, 1);
  g_signal_connect_swapped (all, "clicked", G_CALLBACK (clear), self);
  gtk_grid_attach (GTK_GRID (grid), all, 0, 11, 2, 1);
  gtk_widget_show_all (grid);
  return grid;
}

static void
sw_item_filter_dispose (GObject *object)
{
  g_clear_object (&SW_ITEM_FILTER (object)->store);
  G_OBJECT_CLASS (sw_item_filter_parent_class)->dispose (object);
}

static void
sw_item_filter_class_init (SwItemFilterBoxClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_item_filter_dispose;
  signals[CHANGED] = g_signal_new ("changed", SW_TYPE_ITEM_FILTER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
}

static void
sw_item_filter_init (SwItemFilterBox *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 6);
  self->filling = TRUE;
  self->button = gtk_menu_button_new ();
  gtk_button_set_label (GTK_BUTTON (self->button), _ ("Narrow down"));
  gtk_widget_set_halign (self->button, GTK_ALIGN_START);
  self->popover = gtk_popover_new (self->button);
  gtk_container_add (GTK_CONTAINER (self->popover), make_choices (self));
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (self->button), self->popover);
  self->chips = gtk_flow_box_new ();
  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (self->chips), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (self->chips), 6);
  gtk_widget_set_can_focus (self->chips, FALSE);
  atk_object_set_name (gtk_widget_get_accessible (self->chips), _ ("Narrowed down to"));
  atk_object_set_role (gtk_widget_get_accessible (self->chips), ATK_ROLE_PANEL);
  gtk_container_add (GTK_CONTAINER (self), self->chips);
  g_signal_connect_swapped (self->popover, "show", G_CALLBACK (on_opened), self);
  self->filling = FALSE;
}

GtkWidget *
sw_item_filter_button (SwItemFilterBox *self)
{
  return self->button;
}

void
sw_item_filter_set_store (SwItemFilterBox *self, SwStore *store)
{
  g_set_object (&self->store, store);
}
