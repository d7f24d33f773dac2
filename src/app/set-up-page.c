/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The steps of the set-up. Making and changing is core's, on other threads; here are the forms,
 * what is kept of them, and where the keys go. */
#include "app/set-up-page.h"

#include <locale.h>

#include "app/form-acts.h"
#include "app/list-field.h"
#include "app/outline-view.h"
#include "app/text.h"
#include "core/base/error.h"
#include "core/base/text.h"
#include "core/base/zone-list.h"

/* What was typed is kept this long after the last key. */
#define KEEP_AFTER_MS 300

struct _SwSetUpPage
{
  GtkBox parent;
  SwStore *store; /* NULL while none is open */
  GtkWidget *stack;
  GtkWidget *name, *currency, *zone, *folder, *where, *make, *property_problem;
  GtkWidget *there, *outline_place, *outline, *count, *places_next, *places_problem;
  GtkWidget *trips, *title, *first, *last, *trip_next, *trip_problem;
  GtkListStore *zones;
  gboolean filling;
  gboolean is_first; /* the set-up was not through yet when it was taken up */
  guint keep_id;
};

enum
{
  MADE,
  LEFT,
  PLAN,
  PHOTOS,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwSetUpPage, sw_set_up_page, GTK_TYPE_BOX)

static const char *const step_names[] = {
  [SW_SET_UP_PLACES] = "places",
  [SW_SET_UP_TRIP] = "trip",
};

static void
say (GtkWidget *label, const char *problem)
{
  gtk_label_set_text (GTK_LABEL (label), problem != NULL ? problem : "");
  gtk_widget_set_visible (label, problem != NULL);
  if (problem != NULL)
    g_signal_emit_by_name (gtk_widget_get_accessible (label), "announcement", problem);
}

static const char *
text_of (GtkWidget *entry)
{
  return gtk_entry_get_text (GTK_ENTRY (entry));
}

static char *
tidy_text (GtkWidget *entry)
{
  return sw_text_tidy (text_of (entry));
}

/* ---- the property ---- */

/* Where the new one will lie, said before it is made. Transfer full; NULL while something is
 * missing. */
static char *
new_folder (SwSetUpPage *self)
{
  g_autofree char *parent = gtk_file_chooser_get_filename (GTK_FILE_CHOOSER (self->folder));
  g_autofree char *name = tidy_text (self->name);
  g_autofree char *stem = NULL, *base = NULL;

  if (parent == NULL || *name == '\0')
    return NULL;
  stem = sw_text_safe_stem (name);
  base = g_strconcat (stem, ".shedwalk", NULL);
  return g_build_filename (parent, base, NULL);
}

static void
on_property_changed (SwSetUpPage *self)
{
  g_autofree char *folder = new_folder (self);

  gtk_label_set_text (GTK_LABEL (self->where), folder != NULL ? folder : "");
  gtk_widget_set_tooltip_text (self->where, folder);
  say (self->property_problem, NULL);
}

typedef struct
{
  char *folder, *name, *currency, *zone;
} New;

static void
new_free (gpointer data)
{
  New *new = data;
  g_free (new->folder);
  g_free (new->name);
  g_free (new->currency);
  g_free (new->zone);
  g_free (new);
}

static void
make_thread (GTask *task, gpointer object, gpointer data, GCancellable *cancellable)
{
  const New *new = data;
  SwSetUp set_up = { .step = SW_SET_UP_PLACES };
  GError *error = NULL;
  SwCatalogue *catalogue
      = sw_catalogue_create (new->folder, new->name, new->currency, new->zone, &error);

  if (catalogue == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  /* a catalogue without its set-up begun is a whole one all the same */
  sw_set_up_put (catalogue, &set_up, NULL);
  sw_catalogue_close (catalogue);
  g_task_return_pointer (task, g_strdup (new->folder), g_free);
}

static void
refuse_property (SwSetUpPage *self, const char *problem, GtkWidget *field)
{
  say (self->property_problem, problem);
  gtk_widget_grab_focus (field);
}

static void
on_made (GObject *object, GAsyncResult *result, gpointer data)
{
  SwSetUpPage *self = SW_SET_UP_PAGE (object);
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_task_propagate_pointer (G_TASK (result), &error);

  if (gtk_widget_in_destruction (GTK_WIDGET (self)))
    return;
  gtk_widget_set_sensitive (self->make, TRUE);
  if (folder != NULL)
    {
      gtk_entry_set_text (GTK_ENTRY (self->name), "");
      g_signal_emit (self, signals[MADE], 0, folder);
      return;
    }
  refuse_property (self, error->message,
                   g_error_matches (error, SW_ERROR, SW_ERROR_BAD_INPUT) ? self->zone : self->name);
}

/* What is meant is shown before it counts. */
static gboolean
on_zone_left (SwSetUpPage *self)
{
  g_autofree char *zone = sw_list_field_meant (self->zone);

  sw_list_field_put (self->zone, zone);
  return FALSE;
}

static gboolean
on_currency_left (SwSetUpPage *self)
{
  g_autofree char *tidy = tidy_text (self->currency);
  g_autofree char *code = g_ascii_strup (tidy, -1);

  sw_list_field_put (self->currency, code);
  return FALSE;
}

/* FALSE where a field cannot stand; it has the focus then. */
static gboolean
check_property (SwSetUpPage *self, const char *name, const char *currency)
{
  g_autoptr (GError) error = NULL;
  SwCurrency found;

  if (*name == '\0')
    refuse_property (self, _ ("Give the property a name."), self->name);
  else if (!sw_text_check (name, _ ("The name"), FALSE, FALSE, &error))
    refuse_property (self, error->message, self->name);
  else if (*currency == '\0')
    refuse_property (self, _ ("Say which currency, by its three letters."), self->currency);
  else if (!sw_currency_find (currency, &found, &error))
    refuse_property (self, error->message, self->currency);
  else if (*text_of (self->zone) == '\0')
    refuse_property (self, _ ("Say which time zone the property is in."), self->zone);
  else
    return TRUE;
  return FALSE;
}

static void
on_make (SwSetUpPage *self)
{
  g_autofree char *name = tidy_text (self->name), *typed = tidy_text (self->currency);
  g_autofree char *currency = g_ascii_strup (typed, -1);
  g_autoptr (GTask) task = NULL;
  New *new;

  if (!gtk_widget_get_sensitive (self->make) || !check_property (self, name, currency))
    return;
  new = g_new0 (New, 1);
  new->folder = new_folder (self);
  new->name = g_steal_pointer (&name);
  new->currency = g_steal_pointer (&currency);
  new->zone = sw_list_field_meant (self->zone);
  if (new->folder == NULL)
    {
      refuse_property (self, _ ("Choose the folder that the catalogue is kept in."), self->folder);
      new_free (new);
      return;
    }
  say (self->property_problem, NULL);
  gtk_widget_set_sensitive (self->make, FALSE);
  task = g_task_new (self, NULL, on_made, NULL);
  g_task_set_task_data (task, new, new_free);
  g_task_run_in_thread (task, make_thread);
}

static void
on_leave (SwSetUpPage *self)
{
  g_signal_emit (self, signals[LEFT], 0);
}

/* ---- what is guessed ---- */

typedef struct
{
  char **zones;
  char *zone;
} Guess;

static void
guess_free (gpointer data)
{
  Guess *guess = data;
  g_strfreev (guess->zones);
  g_free (guess->zone);
  g_free (guess);
}

static void
guess_thread (GTask *task, gpointer object, gpointer data, GCancellable *cancellable)
{
  Guess *guess = g_new0 (Guess, 1);

  guess->zones = sw_zone_names ();
  guess->zone = sw_zone_guess ();
  g_task_return_pointer (task, guess, guess_free);
}

static void
on_guessed (GObject *object, GAsyncResult *result, gpointer data)
{
  SwSetUpPage *self = SW_SET_UP_PAGE (object);
  Guess *guess = g_task_propagate_pointer (G_TASK (result), NULL);

  for (int i = 0; self->zones != NULL && guess->zones[i] != NULL; i++)
    gtk_list_store_insert_with_values (self->zones, NULL, -1, 0, guess->zones[i], -1);
  if (self->zones != NULL && guess->zone != NULL && *text_of (self->zone) == '\0')
    gtk_entry_set_text (GTK_ENTRY (self->zone), guess->zone);
  guess_free (guess);
}

static void
guess_property (SwSetUpPage *self)
{
  g_autoptr (GTask) task = g_task_new (self, NULL, on_guessed, NULL);
  g_autoptr (GtkListStore) currencies = sw_list_field_set_up (self->currency);
  const struct lconv *money = localeconv ();
  g_autofree char *code = g_strndup (money->int_curr_symbol, 3);
  const char *documents = g_get_user_special_dir (G_USER_DIRECTORY_DOCUMENTS);
  gsize n;
  const SwCurrency *all = sw_currency_list (&n);

  for (gsize i = 0; i < n; i++)
    gtk_list_store_insert_with_values (currencies, NULL, -1, 0, all[i].code, -1);
  gtk_entry_set_text (GTK_ENTRY (self->currency), code);
  gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (self->folder),
                                       documents != NULL ? documents : g_get_home_dir ());
  self->zones = sw_list_field_set_up (self->zone);
  g_task_run_in_thread (task, guess_thread);
}

/* ---- what is kept ---- */

/* The step in view; DONE for none of these. */
static SwSetUpStep
step_shown (SwSetUpPage *self)
{
  const char *shown = gtk_stack_get_visible_child_name (GTK_STACK (self->stack));

  for (gsize i = 0; i < G_N_ELEMENTS (step_names); i++)
    if (g_strcmp0 (shown, step_names[i]) == 0)
      return (SwSetUpStep)i;
  return SW_SET_UP_DONE;
}

static void
keep (SwSetUpPage *self, SwSetUpStep step)
{
  g_autofree char *places = sw_outline_view_get_text (SW_OUTLINE_VIEW (self->outline));
  const SwSetUp set_up = { .step = self->is_first ? step : SW_SET_UP_DONE,
                           .places = places,
                           .title = (char *)text_of (self->title),
                           .first = (char *)text_of (self->first),
                           .last = (char *)text_of (self->last) };

  g_clear_handle_id (&self->keep_id, g_source_remove);
  if (self->store != NULL)
    sw_form_keep_set_up (self->store, &set_up);
}

static gboolean
on_keep (gpointer data)
{
  SwSetUpPage *self = data;

  self->keep_id = 0;
  keep (self, step_shown (self));
  return G_SOURCE_REMOVE;
}

static void
keep_soon (SwSetUpPage *self)
{
  g_clear_handle_id (&self->keep_id, g_source_remove);
  if (self->store != NULL && !self->filling)
    self->keep_id = g_timeout_add (KEEP_AFTER_MS, on_keep, self);
}

static void
show_step (SwSetUpPage *self, SwSetUpStep step)
{
  say (self->places_problem, NULL);
  say (self->trip_problem, NULL);
  sw_outline_view_stop_scrolling (SW_OUTLINE_VIEW (self->outline));
  keep (self, step);
  if (step == SW_SET_UP_PHOTOS)
    {
      g_signal_emit (self, signals[PHOTOS], 0);
      return;
    }
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), step_names[step]);
  gtk_widget_grab_focus (step == SW_SET_UP_PLACES ? self->outline : self->title);
}

/* ---- the places ---- */

static void
on_outline_changed (SwSetUpPage *self)
{
  int n = sw_outline_view_count (SW_OUTLINE_VIEW (self->outline));
  g_autofree char *text = sw_text_count (n, "%d place", "%d places");

  gtk_label_set_text (GTK_LABEL (self->count), n > 0 ? text : "");
  say (self->places_problem, NULL);
  keep_soon (self);
}

static void
on_places_added (gpointer owner, const char *problem)
{
  SwSetUpPage *self = owner;

  gtk_widget_set_sensitive (self->places_next, TRUE);
  if (problem != NULL)
    {
      say (self->places_problem, problem);
      gtk_widget_grab_focus (self->outline);
      return;
    }
  sw_outline_view_set_text (SW_OUTLINE_VIEW (self->outline), "");
  show_step (self, SW_SET_UP_TRIP);
}

static void
on_places_next (SwSetUpPage *self)
{
  g_autofree char *text = sw_outline_view_get_text (SW_OUTLINE_VIEW (self->outline));

  if (!gtk_widget_get_sensitive (self->places_next) || self->store == NULL)
    return;
  gtk_widget_set_sensitive (self->places_next, FALSE);
  sw_form_act_places (self->store, text, G_OBJECT (self), on_places_added);
}

static void
on_places_later (SwSetUpPage *self)
{
  show_step (self, SW_SET_UP_TRIP);
}

static void
on_plan_added (gpointer owner, const char *problem)
{
  SwSetUpPage *self = owner;

  say (self->places_problem, problem);
  if (problem != NULL)
    return;
  sw_outline_view_set_text (SW_OUTLINE_VIEW (self->outline), "");
  sw_outline_view_stop_scrolling (SW_OUTLINE_VIEW (self->outline));
  keep (self, SW_SET_UP_TRIP);
  g_signal_emit (self, signals[PLAN], 0);
}

/* What is typed is taken along: each place is a box on the plan. */
static void
on_plan (SwSetUpPage *self)
{
  g_autofree char *text = sw_outline_view_get_text (SW_OUTLINE_VIEW (self->outline));

  if (self->store != NULL)
    sw_form_act_places (self->store, text, G_OBJECT (self), on_plan_added);
}

/* ---- the trip ---- */

static void
on_trip_changed (SwSetUpPage *self)
{
  say (self->trip_problem, NULL);
  keep_soon (self);
}

static void
on_trip_added (gpointer owner, const char *problem)
{
  SwSetUpPage *self = owner;

  gtk_widget_set_sensitive (self->trip_next, TRUE);
  if (problem != NULL)
    {
      say (self->trip_problem, problem);
      gtk_widget_grab_focus (*text_of (self->title) == '\0'   ? self->title
                             : *text_of (self->first) == '\0' ? self->first
                                                              : self->last);
      return;
    }
  self->filling = TRUE;
  gtk_entry_set_text (GTK_ENTRY (self->title), "");
  gtk_entry_set_text (GTK_ENTRY (self->first), "");
  gtk_entry_set_text (GTK_ENTRY (self->last), "");
  self->filling = FALSE;
  show_step (self, SW_SET_UP_PHOTOS);
}

static void
on_trip_next (SwSetUpPage *self)
{
  if (!gtk_widget_get_sensitive (self->trip_next) || self->store == NULL)
    return;
  gtk_widget_set_sensitive (self->trip_next, FALSE);
  sw_form_act_trip (self->store, 0, text_of (self->title), text_of (self->first),
                    text_of (self->last), G_OBJECT (self), on_trip_added);
}

static void
on_trip_later (SwSetUpPage *self)
{
  show_step (self, SW_SET_UP_PHOTOS);
}

static void
on_trip_back (SwSetUpPage *self)
{
  show_step (self, SW_SET_UP_PLACES);
}

/* ---- what is there already ---- */

/* "There already: A, A > B", or nothing. Takes the names. */
static void
say_there (GtkWidget *label, GStrvBuilder *names)
{
  g_auto (GStrv) all = g_strv_builder_end (names);
  g_autofree char *joined = g_strjoinv (", ", all);
  g_autofree char *text = g_strdup_printf (_ ("There already: %s"), joined);

  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_widget_set_tooltip_text (label, joined);
  gtk_widget_set_visible (label, *all != NULL);
}

static void
on_store_changed (SwSetUpPage *self)
{
  const SwOverview *overview = sw_store_overview (self->store);
  g_autoptr (GStrvBuilder) places = g_strv_builder_new ();
  g_autoptr (GStrvBuilder) trips = g_strv_builder_new ();

  for (guint i = 0; i < overview->places->len; i++)
    g_strv_builder_add (places, ((SwPlace *)g_ptr_array_index (overview->places, i))->path);
  for (guint i = 0; i < overview->trips->len; i++)
    {
      g_autofree char *trip = sw_text_trip (g_ptr_array_index (overview->trips, i));
      g_strv_builder_add (trips, trip);
    }
  say_there (self->there, places);
  say_there (self->trips, trips);
}

/* ---- object ---- */

static void
sw_set_up_page_dispose (GObject *object)
{
  SwSetUpPage *self = SW_SET_UP_PAGE (object);

  sw_set_up_page_set_store (self, NULL);
  g_clear_object (&self->zones);
  G_OBJECT_CLASS (sw_set_up_page_parent_class)->dispose (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwSetUpPage, name)
#define CALLBACK(name) gtk_widget_class_bind_template_callback (widget, name)

static void
bind_children (GtkWidgetClass *widget)
{
  BIND (stack);
  BIND (name);
  BIND (currency);
  BIND (zone);
  BIND (folder);
  BIND (where);
  BIND (make);
  BIND (property_problem);
  BIND (there);
  BIND (outline_place);
  BIND (count);
  BIND (places_next);
  BIND (places_problem);
  BIND (trips);
  BIND (title);
  BIND (first);
  BIND (last);
  BIND (trip_next);
  BIND (trip_problem);
}

static guint
add_signal (const char *name, guint n_params, GType type)
{
  return g_signal_new (name, SW_TYPE_SET_UP_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                       G_TYPE_NONE, n_params, type);
}

static void
sw_set_up_page_class_init (SwSetUpPageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_set_up_page_dispose;
  signals[MADE] = add_signal ("made", 1, G_TYPE_STRING);
  signals[LEFT] = add_signal ("left", 0, G_TYPE_NONE);
  signals[PLAN] = add_signal ("plan", 0, G_TYPE_NONE);
  signals[PHOTOS] = add_signal ("photos", 0, G_TYPE_NONE);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/set-up-page.ui");
  bind_children (widget);
  CALLBACK (on_property_changed);
  CALLBACK (on_make);
  CALLBACK (on_currency_left);
  CALLBACK (on_zone_left);
  CALLBACK (on_leave);
  CALLBACK (on_places_next);
  CALLBACK (on_places_later);
  CALLBACK (on_plan);
  CALLBACK (on_trip_changed);
  CALLBACK (on_trip_next);
  CALLBACK (on_trip_later);
  CALLBACK (on_trip_back);
}

static void
sw_set_up_page_init (SwSetUpPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->outline = sw_outline_view_new (
      _ ("One place a line"), _ ("Packing shed\n  Loft\n  Cold store\nPress house\nGlasshouse"));
  gtk_box_pack_start (GTK_BOX (self->outline_place), self->outline, TRUE, TRUE, 0);
  g_signal_connect_object (self->outline, "changed", G_CALLBACK (on_outline_changed), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->outline, "done", G_CALLBACK (on_places_next), self,
                           G_CONNECT_SWAPPED);
  guess_property (self);
  on_property_changed (self);
}

GtkWidget *
sw_set_up_page_new (void)
{
  return g_object_new (SW_TYPE_SET_UP_PAGE, NULL);
}

void
sw_set_up_page_begin (SwSetUpPage *self)
{
  say (self->property_problem, NULL);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "property");
  gtk_widget_grab_focus (self->name);
}

void
sw_set_up_page_set_store (SwSetUpPage *self, SwStore *store)
{
  if (self->store != NULL)
    {
      if (self->keep_id != 0)
        keep (self, step_shown (self)); /* what was typed last, before the catalogue closes */
      g_signal_handlers_disconnect_by_data (self->store, self);
    }
  g_clear_handle_id (&self->keep_id, g_source_remove);
  g_set_object (&self->store, store);
  if (store != NULL)
    g_signal_connect_object (store, "changed", G_CALLBACK (on_store_changed), self,
                             G_CONNECT_SWAPPED);
}

void
sw_set_up_page_resume (SwSetUpPage *self)
{
  const SwSetUp *set_up = sw_store_overview (self->store)->set_up;

  self->filling = TRUE;
  sw_outline_view_set_text (SW_OUTLINE_VIEW (self->outline), set_up->places);
  gtk_entry_set_text (GTK_ENTRY (self->title), set_up->title);
  gtk_entry_set_text (GTK_ENTRY (self->first), set_up->first);
  gtk_entry_set_text (GTK_ENTRY (self->last), set_up->last);
  self->filling = FALSE;
  self->is_first = set_up->step != SW_SET_UP_DONE;
  on_store_changed (self);
  show_step (self, set_up->step == SW_SET_UP_DONE ? SW_SET_UP_PLACES : set_up->step);
}
