/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A tree of two levels: parts and their lines. What is chosen stays chosen when it is read anew. */
#include "app/trip-page.h"

#include "app/forms.h"
#include "app/side-box.h"
#include "app/text.h"
#include "app/tick-view.h"
#include "app/trip-acts.h"
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
  GtkWidget *home, *home_alone, *walk, *ticks;
  SwTripSheet *sheet; /* NULL until it was read, and where no trip lies ahead */
  GCancellable *cancellable;
  gboolean filling; /* rows come and go: what is chosen meanwhile was chosen by nobody */
  int chosen_part;
  gint64 chosen_subject, chosen_item; /* of the line chosen; 0: none */
};

G_DEFINE_TYPE (SwTripPage, sw_trip_page, GTK_TYPE_STACK)

enum
{
  NUMBER,
  WHAT,
  DETAIL,
  WHERE,
  LINE,   /* SwTripLine, of the sheet; NULL: a part, or a thing that stays */
  THING,  /* SwLoadThing, of the sheet; NULL: none */
  WEIGHT, /* of the letters */
  N_COLUMNS
};

/* ---- rows ---- */

static void
add_head (GtkTreeStore *rows, GtkTreeIter *head, const char *text, int n)
{
  g_autofree char *title = g_strdup_printf ("%s (%d)", text, n);

  gtk_tree_store_insert_with_values (rows, head, NULL, -1, NUMBER, "", WHAT, title, DETAIL, "",
                                     WHERE, "", WEIGHT, PANGO_WEIGHT_BOLD, -1);
}

static SwLoadThing *
thing_of (const SwTripSheet *sheet, const SwTripLine *line)
{
  for (guint i = 0; line->part == SW_TRIP_LOAD && i < sheet->load->things->len; i++)
    {
      SwLoadThing *thing = g_ptr_array_index (sheet->load->things, i);

      if (thing->item->id == line->subject)
        return thing;
    }
  return NULL;
}

static void
add_part (SwTripPage *self, GtkTreeStore *rows, SwTripPart part)
{
  GtkTreeIter head;
  int n = 0;

  for (guint i = 0; i < self->sheet->lines->len; i++)
    n += ((SwTripLine *)g_ptr_array_index (self->sheet->lines, i))->part == part;
  if (n == 0)
    return;
  add_head (rows, &head, _ (sw_trip_part_heading (part)), n);
  for (guint i = 0; i < self->sheet->lines->len; i++)
    {
      SwTripLine *line = g_ptr_array_index (self->sheet->lines, i);
      g_autofree char *number = g_strdup_printf ("%d", line->number);

      if (line->part == part)
        gtk_tree_store_insert_with_values (
            rows, NULL, &head, -1, NUMBER, number, WHAT, line->what, DETAIL,
            line->detail != NULL ? line->detail : "", WHERE, line->place != NULL ? line->place : "",
            LINE, line, THING, thing_of (self->sheet, line), WEIGHT, PANGO_WEIGHT_NORMAL, -1);
    }
}

/* Why a thing is not in the load. */
static const char *
stays_words (const SwLoadThing *thing)
{
  const char *why = sw_load_obstacle_words (thing->obstacle);

  return why != NULL                ? _ (why)
         : thing->leaves.minor <= 0 ? _ ("no price to tell what it would leave")
                                    : _ ("others leave more");
}

static gboolean
stays (const SwTripSheet *sheet, const SwLoadThing *thing)
{
  return sheet->load->has_van && thing->pieces == 0;
}

static void
add_what_stays (SwTripPage *self, GtkTreeStore *rows)
{
  GtkTreeIter head;
  int n = 0;

  for (guint i = 0; i < self->sheet->load->things->len; i++)
    n += stays (self->sheet, g_ptr_array_index (self->sheet->load->things, i));
  if (n == 0)
    return;
  add_head (rows, &head, _ ("Stays this time"), n);
  for (guint i = 0; i < self->sheet->load->things->len; i++)
    {
      SwLoadThing *thing = g_ptr_array_index (self->sheet->load->things, i);

      if (stays (self->sheet, thing))
        gtk_tree_store_insert_with_values (
            rows, NULL, &head, -1, NUMBER, "", WHAT, thing->item->name, DETAIL, stays_words (thing),
            WHERE, thing->item->place_path, THING, thing, WEIGHT, PANGO_WEIGHT_NORMAL, -1);
    }
}

static void
add_what_to_weigh (SwTripPage *self, GtkTreeStore *rows)
{
  const GPtrArray *weigh = self->sheet->load->weigh;
  GtkTreeIter head;

  if (weigh->len == 0)
    return;
  add_head (rows, &head, _ ("Weigh first"), (int)weigh->len);
  for (guint i = 0; i < weigh->len; i++)
    {
      SwLoadThing *thing = g_ptr_array_index (weigh, i);
      g_autofree char *mass = sw_mass_to_rough_text (thing->each);
      g_autofree char *taken = g_strdup_printf (_ ("taken for %s"), mass);

      gtk_tree_store_insert_with_values (rows, NULL, &head, -1, NUMBER, "", WHAT, thing->item->name,
                                         DETAIL, taken, WHERE, thing->item->place_path, THING,
                                         thing, WEIGHT, PANGO_WEIGHT_NORMAL, -1);
    }
}

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
add_due (SwTripPage *self, GString *text)
{
  g_autofree char *due = NULL;

  if (self->sheet->due.minor == 0)
    return;
  due = sw_store_money_with_code (self->store, self->sheet->due);
  g_string_append_printf (text, _ ("%s due at hand-overs. "), due);
}

static void
add_load_words (SwTripPage *self, GString *text)
{
  const SwLoadSheet *load = self->sheet->load;
  g_autofree char *money = sw_store_money_with_code (self->store, load->leaves);
  g_autofree char *most = sw_store_money_with_code (self->store, load->may_leave);
  g_autofree char *unsure = sw_mass_to_rough_text (load->unsure);

  if (load->things->len > 0 && !load->has_van)
    g_string_append (text, _ ("Say what the van may carry to have the load planned. "));
  for (guint r = 0; r < load->runs->len; r++)
    {
      const SwLoadRunSum *run = &g_array_index (load->runs, SwLoadRunSum, r);
      g_autofree char *mass = sw_mass_to_rough_text (run->mass);

      if (run->pieces > 0)
        g_string_append_printf (text, _ ("Run %u: %d to load, %s. "), r + 1, (int)run->pieces,
                                mass);
    }
  if (load->leaves.minor > 0 && load->best)
    g_string_append_printf (text, _ ("Expected to leave %s. "), money);
  else if (load->leaves.minor > 0)
    g_string_append_printf (text, _ ("Expected to leave %s, and no load more than %s. "), money,
                            most);
  if (load->unsure.ug > 0)
    g_string_append_printf (text, _ ("%s is guessed. "), unsure);
}

static void
add_walk (SwTripPage *self, GString *text)
{
  g_autofree char *walk = sw_walk_sentence (self->sheet->walk);

  if (walk != NULL)
    g_string_append_printf (text, "%s ", walk);
  gtk_widget_set_visible (self->walk, sw_walk_is_shorter (self->sheet->walk));
}

static void
show_summary (SwTripPage *self)
{
  g_autoptr (GString) text = g_string_new (NULL);

  add_due (self, text);
  add_load_words (self, text);
  add_walk (self, text);
  if (self->sheet->lines->len == 0 && self->sheet->load->things->len == 0)
    g_string_append (text,
                     _ ("Nothing is to do there yet: it comes by itself from what is sold, to "
                        "be brought home, for scrap, and from jobs and questions."));
  gtk_label_set_text (GTK_LABEL (self->summary), g_strchomp (text->str));
  gtk_label_set_text (GTK_LABEL (self->refused),
                      self->sheet->load->refused != NULL ? self->sheet->load->refused : "");
  gtk_widget_set_visible (self->refused, self->sheet->load->refused != NULL);
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
  gtk_tree_model_get (model, &iter, LINE, out_line, THING, out_thing, -1);
  return *out_line != NULL || *out_thing != NULL;
}

static char *
thing_words (SwTripPage *self, const SwLoadThing *thing)
{
  g_autofree char *money = sw_store_money_with_code (self->store, thing->leaves);
  GString *text = g_string_new (NULL);

  if (thing->wish == SW_WISH_MUST)
    g_string_append (text, _ ("You said that it must go. "));
  if (thing->outlet != NULL)
    g_string_append_printf (text, _ ("Expected to leave %s at %s. "), money, thing->outlet);
  else if (thing->leaves.minor > 0)
    g_string_append_printf (text, _ ("%s is asked for it. "), money);
  if (thing->mass_basis == SW_BASIS_ASSUMED)
    g_string_append (text, _ ("Its mass is not known; it is taken like a thing for two people. "));
  if (thing->floor_cm2 > 0)
    g_string_append_printf (text, _ ("It takes %.1f m² of floor each. "),
                            (double)thing->floor_cm2 / 10000);
  return g_string_free (text, FALSE);
}

static void
show_chosen (SwTripPage *self)
{
  SwTripLine *line;
  SwLoadThing *thing;
  g_autoptr (GString) text = NULL;
  gboolean any;

  if (self->filling)
    return;
  text = g_string_new (NULL);
  any = get_chosen (self, &line, &thing);
  if (any && line != NULL)
    g_string_append_printf (text, "%s%s%s. ", line->what, line->detail != NULL ? ": " : "",
                            line->detail != NULL ? line->detail : "");
  else if (any && stays (self->sheet, thing))
    g_string_append_printf (text, "%s: %s. ", thing->item->name, stays_words (thing));
  else if (any)
    g_string_append_printf (text, "%s. ", thing->item->name);
  if (thing != NULL)
    {
      g_autofree char *words = thing_words (self, thing);
      g_string_append (text, words);
    }
  if (line != NULL && line->caution != NULL)
    g_string_append_printf (text, _ ("Caution: %s"), line->caution);
  gtk_label_set_text (GTK_LABEL (self->words),
                      any ? g_strchomp (text->str)
                          : _ ("Choose a line to see all that is known of it."));
  gtk_widget_set_sensitive (self->wishes, thing != NULL);
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

static gboolean
on_key (GtkWidget *table, GdkEventKey *event, SwTripPage *self)
{
  if ((event->state & gtk_accelerator_get_default_mod_mask () & ~GDK_SHIFT_MASK) != 0)
    return GDK_EVENT_PROPAGATE;
  switch (gdk_keyval_to_lower (event->keyval))
    {
    case GDK_KEY_m:
      on_must (self);
      return GDK_EVENT_STOP;
    case GDK_KEY_n:
      on_waits (self);
      return GDK_EVENT_STOP;
    case GDK_KEY_p:
      on_pays (self);
      return GDK_EVENT_STOP;
    default:
      return GDK_EVENT_PROPAGATE;
    }
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

  gtk_tree_model_get (model, iter, LINE, &line, THING, &thing, -1);
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
  GtkTreeStore *rows = GTK_TREE_STORE (gtk_tree_view_get_model (GTK_TREE_VIEW (self->table)));
  GtkTreeIter first;
  SwTripLine *line;
  SwLoadThing *thing;

  for (int part = 0; part < SW_N_TRIP_PARTS; part++)
    {
      add_part (self, rows, (SwTripPart)part);
      if (part != SW_TRIP_LOAD)
        continue;
      add_what_stays (self, rows);
      add_what_to_weigh (self, rows);
    }
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

static GtkWindow *
window_of (SwTripPage *self)
{
  return GTK_WINDOW (gtk_widget_get_toplevel (GTK_WIDGET (self)));
}

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
on_van (SwTripPage *self)
{
  if (self->sheet != NULL)
    sw_van_form_show (window_of (self), self->store, self->sheet->load);
}

static void
on_save_response (GtkNativeDialog *dialog, int response, SwTripPage *self)
{
  g_autofree char *path = response == GTK_RESPONSE_ACCEPT
                              ? gtk_file_chooser_get_filename (GTK_FILE_CHOOSER (dialog))
                              : NULL;

  sw_native_dialog_done (dialog);
  if (path != NULL && self->store != NULL && self->sheet != NULL)
    sw_trip_write_paper (self->store, self->sheet->trip->id, path);
}

static void
on_paper (SwTripPage *self)
{
  GtkFileChooserNative *chooser;

  if (self->sheet == NULL)
    return;
  chooser = gtk_file_chooser_native_new (_ ("Write the trip sheet"), window_of (self),
                                         GTK_FILE_CHOOSER_ACTION_SAVE, _ ("_Write"), _ ("_Cancel"));
  gtk_file_chooser_set_do_overwrite_confirmation (GTK_FILE_CHOOSER (chooser), TRUE);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (chooser), _ ("trip-sheet.pdf"));
  g_signal_connect (chooser, "response", G_CALLBACK (on_save_response), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
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
  gtk_widget_class_bind_template_child (widget, SwTripPage, walk);
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

static const struct
{
  int column;
  const char *title;
  gboolean expands;
} columns[] = {
  { NUMBER, N_ ("No."), FALSE },
  { WHAT, N_ ("What"), TRUE },
  { DETAIL, N_ ("What to know"), TRUE },
  { WHERE, N_ ("Where"), FALSE },
};

static void
add_column (SwTripPage *self, gsize i)
{
  GtkCellRenderer *cell = gtk_cell_renderer_text_new ();
  GtkTreeViewColumn *made = gtk_tree_view_column_new_with_attributes (
      _ (columns[i].title), cell, "text", columns[i].column, "weight", WEIGHT, NULL);

  g_object_set (cell, "ellipsize",
                columns[i].column == NUMBER ? PANGO_ELLIPSIZE_NONE : PANGO_ELLIPSIZE_END,
                "width-chars", columns[i].column == NUMBER ? 3 : 14, "xalign",
                columns[i].column == NUMBER ? 1.0 : 0.0, NULL);
  gtk_tree_view_column_set_expand (made, columns[i].expands);
  gtk_tree_view_append_column (GTK_TREE_VIEW (self->table), made);
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
  g_autoptr (GtkTreeStore) rows
      = gtk_tree_store_new (N_COLUMNS, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING,
                            G_TYPE_POINTER, G_TYPE_POINTER, G_TYPE_INT);
  GtkTreeSelection *selection;

  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_tree_view_set_model (GTK_TREE_VIEW (self->table), GTK_TREE_MODEL (rows));
  for (gsize i = 0; i < G_N_ELEMENTS (columns); i++)
    add_column (self, i);
  selection = gtk_tree_view_get_selection (GTK_TREE_VIEW (self->table));
  gtk_tree_selection_set_select_function (selection, is_line, NULL, NULL);
  g_signal_connect_swapped (selection, "changed", G_CALLBACK (show_chosen), self);
  g_signal_connect (self->table, "key-press-event", G_CALLBACK (on_key), self);
  g_signal_connect_swapped (self->add_trip, "clicked", G_CALLBACK (on_add_trip), self);
  g_signal_connect_swapped (self->home, "clicked", G_CALLBACK (on_home), self);
  g_signal_connect_swapped (self->home_alone, "clicked", G_CALLBACK (on_home), self);
  g_signal_connect_swapped (self->ticks, "closed", G_CALLBACK (on_ticks_closed), self);
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
