/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Joins core's places with the plan and the list that show them. No rule and no sum: changes go out
 * as acts, and what became of them comes back with the next overview. */
#include "app/plan-pane.h"

#include "app/place-acts.h"
#include "app/place-form.h"
#include "app/place-namer.h"
#include "app/place-rows.h"
#include "app/plan.h"
#include "app/row-list.h"
#include "app/text.h"
#include "app/widgets.h"

struct _SwPlanPane
{
  GtkBox parent;
  SwStore *store;
  gint64 place, trip; /* 0: the whole property, no walk */
  SwWalkWords *walk;
  GCancellable *reading;
  GtkWidget *plan, *places, *draw, *form, *trips;
  gboolean filling;
};

enum
{
  SELECTED,
  ACTIVATED,
  CLICKED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwPlanPane, sw_plan_pane, GTK_TYPE_BOX)

/* ---- the walk ---- */

static void
fill_boxes (SwPlanPane *self)
{
  g_autoptr (SwRows) rows = sw_place_rows_new (self->store, self->walk);

  sw_plan_take_boxes (SW_PLAN (self->plan), sw_place_boxes_new (self->store, self->walk));
  sw_plan_take_walk (SW_PLAN (self->plan),
                     self->walk != NULL ? g_array_ref (self->walk->places) : NULL);
  sw_row_list_set_rows (SW_ROW_LIST (self->places), rows);
  if (self->place != 0)
    sw_row_list_set_key (SW_ROW_LIST (self->places), self->place);
}

static void
free_walk (gpointer walk)
{
  sw_walk_words_free (walk);
}

static void
on_walk (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwPlanPane) self = data;
  SwWalkWords *walk = self->store != NULL ? sw_store_finish (self->store, result, NULL) : NULL;

  if (walk == NULL)
    return;
  g_clear_pointer (&self->walk, sw_walk_words_free);
  self->walk = walk;
  fill_boxes (self);
}

static void
load_walk (SwPlanPane *self)
{
  g_cancellable_cancel (self->reading);
  g_clear_object (&self->reading);
  if (self->trip == 0)
    return;
  self->reading = g_cancellable_new ();
  sw_store_read (self->store, SW_RANK_VISIBLE, sw_walk_words_read,
                 g_memdup2 (&self->trip, sizeof self->trip), g_free, free_walk, self->reading,
                 on_walk, g_object_ref (self));
}

static void
show_walk (SwPlanPane *self, gint64 trip)
{
  if (self->trip == trip)
    return;
  self->trip = trip;
  g_clear_pointer (&self->walk, sw_walk_words_free);
  fill_boxes (self);
  load_walk (self);
}

static void
on_trip (SwPlanPane *self)
{
  const char *id = gtk_combo_box_get_active_id (GTK_COMBO_BOX (self->trips));

  if (!self->filling && id != NULL)
    show_walk (self, g_ascii_strtoll (id, NULL, 10));
}

static void
fill_trips (SwPlanPane *self)
{
  const GPtrArray *trips = sw_store_overview (self->store)->trips;
  g_autofree char *chosen = g_strdup_printf ("%" G_GINT64_FORMAT, self->trip);

  self->filling = TRUE;
  gtk_combo_box_text_remove_all (GTK_COMBO_BOX_TEXT (self->trips));
  gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (self->trips), "0", _ ("No walk shown"));
  for (guint i = 0; i < trips->len; i++)
    {
      const SwTrip *trip = g_ptr_array_index (trips, i);
      g_autofree char *id = g_strdup_printf ("%" G_GINT64_FORMAT, trip->id);
      g_autofree char *name = sw_text_trip (trip);
      g_autofree char *text = g_strdup_printf (_ ("Walk of %s"), name);
      gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (self->trips), id, text);
    }
  if (!gtk_combo_box_set_active_id (GTK_COMBO_BOX (self->trips), chosen))
    {
      gtk_combo_box_set_active (GTK_COMBO_BOX (self->trips), 0);
      self->trip = 0;
    }
  gtk_widget_set_visible (self->trips, trips->len > 0);
  self->filling = FALSE;
}

void
sw_plan_pane_show_walk (SwPlanPane *self, gint64 trip)
{
  show_walk (self, trip);
  fill_trips (self);
}

/* ---- choosing ---- */

static void
follow_choice (SwPlanPane *self)
{
  gtk_widget_set_sensitive (self->form,
                            self->place != 0 && !sw_store_overview (self->store)->read_only);
}

void
sw_plan_pane_set_place (SwPlanPane *self, gint64 place)
{
  self->place = place;
  sw_plan_set_place (SW_PLAN (self->plan), place);
  sw_row_list_set_key (SW_ROW_LIST (self->places), place);
  follow_choice (self);
}

static void
on_selected (GtkWidget *from, gint64 place, SwPlanPane *self)
{
  sw_plan_pane_set_place (self, place);
  g_signal_emit (self, signals[SELECTED], 0, place);
}

static void
on_activated (GtkWidget *from, gint64 place, SwPlanPane *self)
{
  sw_plan_pane_set_place (self, place);
  g_signal_emit (self, signals[ACTIVATED], 0, place);
}

static void
on_clicked (GtkWidget *list, gint64 place, SwPlanPane *self)
{
  g_signal_emit (self, signals[CLICKED], 0, place);
}

/* ---- changing ---- */

/* A box that may not stand there goes back. */
static void
on_put (gpointer pane, gboolean done)
{
  if (!done)
    fill_boxes (pane);
}

static void
on_moved (GtkWidget *plan, gint64 place, gint64 parent, int x, int y, int w, int h,
          SwPlanPane *self)
{
  SwPlanBox box = { .x = x, .y = y, .w = w, .h = h };

  sw_place_act_put (self->store, place, parent, &box, sw_plan_get_box (SW_PLAN (plan), parent),
                    sw_plan_get_box_before (SW_PLAN (plan), place), G_OBJECT (self), on_put);
}

static void
on_drawn (GtkWidget *plan, gint64 parent, int x, int y, int w, int h, SwPlanPane *self)
{
  SwPlanBox box = { .x = x, .y = y, .w = w, .h = h };

  sw_place_namer_ask (SW_PLAN (plan), self->store, parent, &box);
}

static void
open_form (SwPlanPane *self)
{
  if (self->place != 0 && !sw_store_overview (self->store)->read_only)
    sw_place_form_open (SW_PLAN (self->plan), self->store, self->place);
}

static void
on_form (GtkWidget *plan, gint64 place, SwPlanPane *self)
{
  sw_plan_pane_set_place (self, place);
  open_form (self);
}

static void
on_remove (GtkWidget *plan, gint64 place, SwPlanPane *self)
{
  sw_place_act_remove (self->store, place);
}

static void
on_shift_walk (GtkWidget *plan, gint64 place, int by, SwPlanPane *self)
{
  sw_place_act_walk (self->store, place, by);
}

static void
on_draw (SwPlanPane *self)
{
  sw_plan_set_drawing (SW_PLAN (self->plan),
                       gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->draw)));
}

/* The list has the plan's keys for what is done with a place, so that nobody needs the drawing. */
static gboolean
on_list_key (GtkWidget *list, GdkEventKey *event, SwPlanPane *self)
{
  GdkModifierType held = event->state & gtk_accelerator_get_default_mod_mask ();

  if (event->keyval == GDK_KEY_Escape || event->keyval == GDK_KEY_n || event->keyval == GDK_KEY_r
      || event->keyval == GDK_KEY_F2 || event->keyval == GDK_KEY_Delete
      || event->keyval == GDK_KEY_Menu
      || (held == GDK_MOD1_MASK && (event->keyval == GDK_KEY_Up || event->keyval == GDK_KEY_Down)))
    return gtk_bindings_activate (G_OBJECT (self->plan), event->keyval, held);
  return FALSE;
}

/* ---- following ---- */

void
sw_plan_pane_follow (SwPlanPane *self)
{
  const SwOverview *overview = sw_store_overview (self->store);

  if (self->place != 0 && sw_store_place (self->store, self->place) == NULL)
    { /* it is gone: the whole property again */
      sw_plan_pane_set_place (self, 0);
      g_signal_emit (self, signals[SELECTED], 0, (gint64)0);
    }
  sw_plan_set_editable (SW_PLAN (self->plan), !overview->read_only);
  sw_plan_set_scale (SW_PLAN (self->plan), overview->um_per_unit);
  gtk_widget_set_sensitive (self->draw, !overview->read_only);
  fill_trips (self);
  fill_boxes (self);
  follow_choice (self);
  load_walk (self);
}

/* ---- object ---- */

static void
sw_plan_pane_dispose (GObject *object)
{
  SwPlanPane *self = SW_PLAN_PANE (object);

  if (self->store != NULL)
    sw_plan_settle (SW_PLAN (self->plan));
  g_cancellable_cancel (self->reading);
  g_clear_object (&self->reading);
  g_clear_object (&self->store);
  g_clear_pointer (&self->walk, sw_walk_words_free);
  G_OBJECT_CLASS (sw_plan_pane_parent_class)->dispose (object);
}

static guint
add_signal (const char *name)
{
  return g_signal_new (name, SW_TYPE_PLAN_PANE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                       1, G_TYPE_INT64);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwPlanPane, name)
#define CALLBACK(name) gtk_widget_class_bind_template_callback (widget, name)

static void
sw_plan_pane_class_init (SwPlanPaneClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_plan_pane_dispose;
  signals[SELECTED] = add_signal ("selected");
  signals[ACTIVATED] = add_signal ("activated");
  signals[CLICKED] = add_signal ("clicked");
  g_type_ensure (SW_TYPE_PLAN);
  g_type_ensure (SW_TYPE_ROW_LIST);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/plan-pane.ui");
  BIND (plan);
  BIND (places);
  BIND (draw);
  BIND (form);
  BIND (trips);
  CALLBACK (on_selected);
  CALLBACK (on_activated);
  CALLBACK (on_clicked);
  CALLBACK (on_moved);
  CALLBACK (on_drawn);
  CALLBACK (on_form);
  CALLBACK (on_remove);
  CALLBACK (on_shift_walk);
  CALLBACK (on_draw);
  CALLBACK (on_trip);
  CALLBACK (on_list_key);
  CALLBACK (open_form);
}

static void
sw_plan_pane_init (SwPlanPane *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  sw_combo_ellipsize (self->trips);
  sw_combo_keep_keyboard (self->trips);
  /* the focus may come here by itself, and a choice narrows the list of items */
  sw_row_list_set_choose_on_focus (SW_ROW_LIST (self->places), FALSE);
}

void
sw_plan_pane_set_store (SwPlanPane *self, SwStore *store)
{
  g_set_object (&self->store, store);
  g_signal_connect_object (store, "settle", G_CALLBACK (sw_plan_settle), self->plan,
                           G_CONNECT_SWAPPED);
}
