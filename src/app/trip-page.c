/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A tree of two levels: parts and their lines. What is chosen stays chosen when it is read anew. */
#include "app/trip-page.h"

#include "app/forms.h"
#include "app/side-box.h"
#include "app/text.h"
#include "app/tick-view.h"
#include "app/trip-acts.h"
#include "app/trip-hand.h"
#include "app/trip-rows.h"
#include "app/trip-words.h"
#include "app/van-form.h"
#include "app/widgets.h"
#include "core/trip/tick-sheet.h"

/* The load is planned again after each change; with a few dozen things it takes some milliseconds,
 * and other reads wait for it. */
#define PLAN_MS 400

struct _SwTripPage
{
  GtkStack parent;
  SwStore *store;
  GtkWidget *add_trip, *heading, *summary, *van, *paper, *refused, *table, *words, *wishes;
  GtkWidget *must, *waits, *pays;
  GtkWidget *overs, *buyer_text, *site, *slip;
  GtkWidget *home, *home_alone, *walk, *last_day, *ticks;
  SwTripSheet *sheet; /* NULL until it was read, and where no trip lies ahead */
  GCancellable *cancellable;
  gboolean filling; /* rows come and go: what is chosen meanwhile was chosen by nobody */
  int chosen_part;
  gint64 chosen_subject, chosen_item; /* of the line chosen; 0: none */
};

G_DEFINE_TYPE (SwTripPage, sw_trip_page, GTK_TYPE_STACK)

/* ---- over the rows ---- */

static void
show_heading (SwTripPage *self)
{
  const SwTrip *trip = self->sheet->trip;
  g_autofree char *days = sw_text_days (trip->first, trip->last);
  g_autofree char *heading = g_strdup_printf ("%s, %s", trip->title, days);

  gtk_label_set_text (GTK_LABEL (self->heading), heading);
}

static void
show_summary (SwTripPage *self)
{
  g_autofree char *text = sw_trip_summary_words (self->store, self->sheet);

  gtk_label_set_text (GTK_LABEL (self->summary), text);
  gtk_label_set_text (GTK_LABEL (self->refused),
                      self->sheet->load->refused != NULL ? self->sheet->load->refused : "");
  gtk_widget_set_visible (self->refused, self->sheet->load->refused != NULL);
  gtk_widget_set_visible (self->walk, sw_walk_is_shorter (self->sheet->walk));
}

/* ---- the chosen line ---- */

static gboolean
get_chosen (SwTripPage *self, SwTripLine **out_line, SwLoadThing **out_thing)
{
  GtkTreeSelection *selection = gtk_tree_view_get_selection (GTK_TREE_VIEW (self->table));
  GtkTreeModel *model;
  GtkTreeIter iter;

  *out_line = NULL;
  *out_thing = NULL;
  if (!gtk_tree_selection_get_selected (selection, &model, &iter))
    return FALSE;
  gtk_tree_model_get (model, &iter, SW_TRIP_COLUMN_LINE, out_line, SW_TRIP_COLUMN_THING, out_thing,
                      -1);
  return *out_line != NULL || *out_thing != NULL;
}

/* Of a row that is neither line nor thing; NULL: nothing. */
static char *
chosen_words (SwTripPage *self)
{
  GtkTreeSelection *selection = gtk_tree_view_get_selection (GTK_TREE_VIEW (self->table));
  GtkTreeModel *model;
  GtkTreeIter iter;
  char *words = NULL;

  if (gtk_tree_selection_get_selected (selection, &model, &iter))
    gtk_tree_model_get (model, &iter, SW_TRIP_COLUMN_WORDS, &words, -1);
  return words;
}

static void
show_chosen (SwTripPage *self)
{
  SwTripLine *line;
  SwLoadThing *thing;
  g_autoptr (GString) text = NULL;
  g_autofree char *said = NULL;
  gboolean any;

  if (self->filling)
    return;
  text = g_string_new (NULL);
  any = get_chosen (self, &line, &thing);
  if (any && line != NULL)
    g_string_append_printf (text, "%s%s%s. ", line->what, line->detail != NULL ? ": " : "",
                            line->detail != NULL ? line->detail : "");
  else if (any && sw_trip_thing_stays (self->sheet, thing))
    g_string_append_printf (text, "%s: %s. ", thing->item->name, sw_trip_stays_words (thing));
  else if (any)
    g_string_append_printf (text, "%s. ", thing->item->name);
  if (thing != NULL)
    {
      g_autofree char *words = sw_trip_thing_words (self->store, thing);
      g_string_append (text, words);
    }
  if (line != NULL && line->caution != NULL)
    g_string_append_printf (text, _ ("Caution: %s"), line->caution);
  if (!any)
    said = chosen_words (self);
  gtk_label_set_text (GTK_LABEL (self->words),
                      any            ? g_strchomp (text->str)
                      : said != NULL ? said
                                     : _ ("Choose a line to see all that is known of it."));
  gtk_widget_set_visible (self->wishes, line == NULL || line->part != SW_TRIP_HAND_OVER);
  gtk_widget_set_sensitive (self->wishes, thing != NULL);
  gtk_widget_set_visible (self->overs, line != NULL && line->part == SW_TRIP_HAND_OVER);
  if (!any)
    return;
  self->chosen_part = line != NULL ? (int)line->part : -1;
  self->chosen_subject = line != NULL ? line->subject : thing->item->id;
  self->chosen_item = line != NULL ? line->item : thing->item->id;
}

static void
wish (SwTripPage *self, SwWish wish)
{
  SwTripLine *line;
  SwLoadThing *thing;

  if (get_chosen (self, &line, &thing) && thing != NULL)
    sw_trip_act_wish (self->store, self->sheet->trip->id, thing->item->id, wish);
}

static void
on_must (SwTripPage *self)
{
  wish (self, SW_WISH_MUST);
}

static void
on_waits (SwTripPage *self)
{
  wish (self, SW_WISH_NOT_THIS_TIME);
}

static void
on_pays (SwTripPage *self)
{
  wish (self, SW_WISH_NONE);
}

static GtkWindow *
window_of (SwTripPage *self)
{
  return GTK_WINDOW (gtk_widget_get_toplevel (GTK_WIDGET (self)));
}

/* The sale of the hand-over chosen; 0: another line is. */
static gint64
chosen_deal (SwTripPage *self)
{
  SwTripLine *line;
  SwLoadThing *thing;

  return get_chosen (self, &line, &thing) && line != NULL && line->part == SW_TRIP_HAND_OVER
             ? line->subject
             : 0;
}

static void
on_buyer_text (SwTripPage *self)
{
  gint64 deal = chosen_deal (self);

  if (deal != 0)
    sw_trip_copy_buyer_text (self->store, self->sheet->trip->id, deal);
}

static void
on_site (SwTripPage *self)
{
  if (chosen_deal (self) != 0 && !sw_store_overview (self->store)->read_only)
    sw_trip_ask_site (window_of (self), self->store, self->sheet->trip->id);
}

static void
on_slip (SwTripPage *self)
{
  if (chosen_deal (self) != 0)
    sw_trip_ask_slip (window_of (self), self->store, self->sheet->trip->id);
}

/* Each key with what it does; those that do not fit the line do nothing. */
static const struct
{
  guint key;
  void (*act) (SwTripPage *self);
} keys[] = {
  { GDK_KEY_m, on_must },       { GDK_KEY_n, on_waits }, { GDK_KEY_p, on_pays },
  { GDK_KEY_t, on_buyer_text }, { GDK_KEY_o, on_site },  { GDK_KEY_s, on_slip },
};

static gboolean
on_key (GtkWidget *table, GdkEventKey *event, SwTripPage *self)
{
  if ((event->state & gtk_accelerator_get_default_mod_mask () & ~GDK_SHIFT_MASK) != 0)
    return GDK_EVENT_PROPAGATE;
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    if (keys[i].key == gdk_keyval_to_lower (event->keyval))
      {
        keys[i].act (self);
        return GDK_EVENT_STOP;
      }
  return GDK_EVENT_PROPAGATE;
}

/* ---- reading ---- */

/* The same subject, else the same item wherever it stands now, else the first line. */
static gboolean
choose_again (GtkTreeModel *model, GtkTreePath *path, GtkTreeIter *iter, gpointer data)
{
  SwTripPage *self = data;
  SwTripLine *line;
  SwLoadThing *thing;
  gboolean same;

  gtk_tree_model_get (model, iter, SW_TRIP_COLUMN_LINE, &line, SW_TRIP_COLUMN_THING, &thing, -1);
  if (line == NULL && thing == NULL)
    return FALSE;
  same = line != NULL && (int)line->part == self->chosen_part
         && line->subject == self->chosen_subject && line->item == self->chosen_item;
  if (!same && thing != NULL)
    same = thing->item->id == self->chosen_item
           && (self->chosen_part == SW_TRIP_LOAD || self->chosen_part == -1);
  if (same)
    gtk_tree_view_set_cursor (GTK_TREE_VIEW (self->table), path, NULL, FALSE);
  return same;
}

static void
choose (SwTripPage *self, GtkTreeModel *model, GtkTreeIter *iter)
{
  g_autoptr (GtkTreePath) path = gtk_tree_model_get_path (model, iter);

  gtk_tree_view_set_cursor (GTK_TREE_VIEW (self->table), path, NULL, FALSE);
}

static void
show_rows (SwTripPage *self)
{
  g_autoptr (GtkTreeStore) rows
      = g_object_ref (GTK_TREE_STORE (gtk_tree_view_get_model (GTK_TREE_VIEW (self->table))));
  GtkTreeIter first;
  SwTripLine *line;
  SwLoadThing *thing;

  /* a table that looks on takes several times as long */
  gtk_tree_view_set_model (GTK_TREE_VIEW (self->table), NULL);
  sw_trip_rows_fill (rows, self->sheet, sw_store_overview (self->store)->currency);
  gtk_tree_view_set_model (GTK_TREE_VIEW (self->table), GTK_TREE_MODEL (rows));
  gtk_tree_view_expand_all (GTK_TREE_VIEW (self->table));
  if (self->chosen_item != 0 || self->chosen_subject != 0)
    gtk_tree_model_foreach (GTK_TREE_MODEL (rows), choose_again, self);
  if (!get_chosen (self, &line, &thing)
      && gtk_tree_model_get_iter_from_string (GTK_TREE_MODEL (rows), &first, "0:0"))
    choose (self, GTK_TREE_MODEL (rows), &first);
  self->filling = FALSE;
  show_chosen (self);
}

static void
show_what_lies_ahead (SwTripPage *self)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self), self->sheet != NULL ? "trip" : "none");
}

typedef struct
{
  SwTripSheet *sheet; /* NULL: no trip lies ahead */
  gint64 begun;       /* the trip that can be ticked off; 0: none */
} Read;

static void
read_free (gpointer data)
{
  Read *read = data;

  sw_trip_sheet_free (read->sheet);
  g_free (read);
}

static gpointer
read_sheet (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  SwDay today = sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));
  Read *read = g_new0 (Read, 1);
  gint64 trip = 0;

  if (sw_trip_at_hand (catalogue, today, &trip, error)
      && sw_tick_trip (catalogue, today, &read->begun, error)
      && (trip == 0
          || (read->sheet = sw_trip_sheet (catalogue, trip, PLAN_MS, cancellable, error)) != NULL))
    return read;
  read_free (read);
  return NULL;
}

static void
on_sheet (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwTripPage) self = data;
  g_autoptr (GError) error = NULL;
  Read *read;

  if (self->store == NULL)
    return;
  read = sw_store_finish (self->store, result, &error);
  if (read == NULL)
    return; /* a later one is on its way, or the catalogue is closed */
  self->filling = TRUE;
  gtk_tree_store_clear (GTK_TREE_STORE (gtk_tree_view_get_model (GTK_TREE_VIEW (self->table))));
  g_clear_pointer (&self->sheet, sw_trip_sheet_free);
  self->sheet = g_steal_pointer (&read->sheet);
  gtk_widget_set_visible (self->home, read->begun != 0);
  gtk_widget_set_visible (self->home_alone, read->begun != 0);
  read_free (read);
  if (gtk_stack_get_visible_child (GTK_STACK (self)) != self->ticks)
    show_what_lies_ahead (self);
  if (self->sheet == NULL)
    {
      self->filling = FALSE;
      return;
    }
  show_heading (self);
  show_summary (self);
  show_rows (self);
}

static void
load (SwTripPage *self)
{
  if (!gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  sw_store_read (self->store, SW_RANK_VISIBLE, read_sheet, NULL, NULL, read_free, self->cancellable,
                 on_sheet, g_object_ref (self));
}

/* ---- buttons ---- */

static void
on_add_trip (SwTripPage *self)
{
  sw_form_add_trip (window_of (self), self->store);
}

static void
on_home (SwTripPage *self)
{
  sw_tick_view_open (SW_TICK_VIEW (self->ticks), self->store);
  gtk_stack_set_visible_child (GTK_STACK (self), self->ticks);
}

static void
on_ticks_closed (SwTripPage *self)
{
  show_what_lies_ahead (self);
  if (self->sheet != NULL)
    gtk_widget_grab_focus (self->table);
}

static void
on_walk (SwTripPage *self)
{
  if (self->sheet != NULL && sw_walk_is_shorter (self->sheet->walk))
    sw_trip_act_walk (self->store, self->sheet->trip->id);
}

static void
on_last_day (SwTripPage *self)
{
  if (self->sheet != NULL)
    sw_trip_ask_last_day (window_of (self), self->store,
                          self->sheet->last->known ? &self->sheet->last->day : NULL);
}

static void
on_van (SwTripPage *self)
{
  if (self->sheet != NULL)
    sw_van_form_show (window_of (self), self->store, self->sheet->load);
}

static void
on_paper (SwTripPage *self)
{
  if (self->sheet != NULL)
    sw_trip_ask_paper (window_of (self), self->store, self->sheet->trip->id);
}

/* ---- object ---- */

static void
sw_trip_page_map (GtkWidget *widget)
{
  SwTripPage *self = SW_TRIP_PAGE (widget);

  GTK_WIDGET_CLASS (sw_trip_page_parent_class)->map (widget);
  load (self);
  if (gtk_stack_get_visible_child (GTK_STACK (self)) != self->ticks)
    gtk_widget_grab_focus (self->table);
}

static void
sw_trip_page_dispose (GObject *object)
{
  SwTripPage *self = SW_TRIP_PAGE (object);

  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->store);
  g_clear_pointer (&self->sheet, sw_trip_sheet_free);
  G_OBJECT_CLASS (sw_trip_page_parent_class)->dispose (object);
}

static void
sw_trip_page_class_init (SwTripPageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_trip_page_dispose;
  widget->map = sw_trip_page_map;
  g_type_ensure (SW_TYPE_SIDE_BOX);
  g_type_ensure (SW_TYPE_TICK_VIEW);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/trip-page.ui");
  gtk_widget_class_bind_template_child (widget, SwTripPage, add_trip);
  gtk_widget_class_bind_template_child (widget, SwTripPage, heading);
  gtk_widget_class_bind_template_child (widget, SwTripPage, home);
  gtk_widget_class_bind_template_child (widget, SwTripPage, home_alone);
  gtk_widget_class_bind_template_child (widget, SwTripPage, ticks);
  gtk_widget_class_bind_template_child (widget, SwTripPage, overs);
  gtk_widget_class_bind_template_child (widget, SwTripPage, buyer_text);
  gtk_widget_class_bind_template_child (widget, SwTripPage, site);
  gtk_widget_class_bind_template_child (widget, SwTripPage, slip);
  gtk_widget_class_bind_template_child (widget, SwTripPage, walk);
  gtk_widget_class_bind_template_child (widget, SwTripPage, last_day);
  gtk_widget_class_bind_template_child (widget, SwTripPage, summary);
  gtk_widget_class_bind_template_child (widget, SwTripPage, van);
  gtk_widget_class_bind_template_child (widget, SwTripPage, paper);
  gtk_widget_class_bind_template_child (widget, SwTripPage, refused);
  gtk_widget_class_bind_template_child (widget, SwTripPage, table);
  gtk_widget_class_bind_template_child (widget, SwTripPage, words);
  gtk_widget_class_bind_template_child (widget, SwTripPage, wishes);
  gtk_widget_class_bind_template_child (widget, SwTripPage, must);
  gtk_widget_class_bind_template_child (widget, SwTripPage, waits);
  gtk_widget_class_bind_template_child (widget, SwTripPage, pays);
}

static gboolean
is_line (GtkTreeSelection *selection, GtkTreeModel *model, GtkTreePath *path, gboolean is_selected,
         gpointer data)
{
  return gtk_tree_path_get_depth (path) > 1;
}

static void
sw_trip_page_init (SwTripPage *self)
{
  GtkTreeSelection *selection;

  gtk_widget_init_template (GTK_WIDGET (self));
  sw_trip_rows_set_up (GTK_TREE_VIEW (self->table));
  selection = gtk_tree_view_get_selection (GTK_TREE_VIEW (self->table));
  gtk_tree_selection_set_select_function (selection, is_line, NULL, NULL);
  g_signal_connect_swapped (selection, "changed", G_CALLBACK (show_chosen), self);
  g_signal_connect (self->table, "key-press-event", G_CALLBACK (on_key), self);
  g_signal_connect_swapped (self->add_trip, "clicked", G_CALLBACK (on_add_trip), self);
  g_signal_connect_swapped (self->home, "clicked", G_CALLBACK (on_home), self);
  g_signal_connect_swapped (self->home_alone, "clicked", G_CALLBACK (on_home), self);
  g_signal_connect_swapped (self->ticks, "closed", G_CALLBACK (on_ticks_closed), self);
  g_signal_connect_swapped (self->buyer_text, "clicked", G_CALLBACK (on_buyer_text), self);
  g_signal_connect_swapped (self->site, "clicked", G_CALLBACK (on_site), self);
  g_signal_connect_swapped (self->slip, "clicked", G_CALLBACK (on_slip), self);
  g_signal_connect_swapped (self->last_day, "clicked", G_CALLBACK (on_last_day), self);
  g_signal_connect_swapped (self->walk, "clicked", G_CALLBACK (on_walk), self);
  g_signal_connect_swapped (self->van, "clicked", G_CALLBACK (on_van), self);
  g_signal_connect_swapped (self->paper, "clicked", G_CALLBACK (on_paper), self);
  g_signal_connect_swapped (self->must, "clicked", G_CALLBACK (on_must), self);
  g_signal_connect_swapped (self->waits, "clicked", G_CALLBACK (on_waits), self);
  g_signal_connect_swapped (self->pays, "clicked", G_CALLBACK (on_pays), self);
  show_chosen (self);
}

GtkWidget *
sw_trip_page_new (SwStore *store, SwPictures *pictures)
{
  SwTripPage *self = g_object_new (SW_TYPE_TRIP_PAGE, NULL);

  self->store = g_object_ref (store);
  g_signal_connect_object (store, "changed", G_CALLBACK (load), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}

void
sw_trip_page_show_ticks (SwTripPage *self)
{
  on_home (self);
}
