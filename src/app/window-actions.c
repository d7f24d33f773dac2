/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The actions of the window, their keys, and what each does. */
#include "app/window-private.h"

#include "app/cards-form.h"
#include "app/closer-view.h"
#include "app/form-acts.h"
#include "app/forms.h"
#include "app/hand-outs.h"
#include "app/page-help.h"
#include "app/photos-page.h"
#include "app/property-page.h"
#include "app/remembered.h"
#include "app/tour.h"
#include "app/widgets.h"
#include "core/trade/book.h"

const char *const sw_window_accels[][3] = {
  { "win.open", "<Primary>o", NULL },
  { "win.new", "<Primary>n", NULL },
  { "win.undo", "<Primary>z", NULL },
  { "win.redo", "<Primary><Shift>z", "<Primary>y" },
  { "win.page('photos')", "<Alt>1", NULL },
  { "win.page('property')", "<Alt>2", NULL },
  { "win.page('offer')", "<Alt>3", NULL },
  { "win.page('trip')", "<Alt>4", NULL },
  { "win.page('takings')", "<Alt>5", NULL },
  { "win.panel", "F9", NULL },
  { "win.search", "<Primary>f", NULL },
  { "win.back", "<Alt>Left", NULL },
  { "win.bring-in", "<Primary>b", NULL },
  { "win.round", "<Primary>d", NULL },
  { "win.menu", "F10", NULL },
  { "win.help", "F1", NULL },
  { "win.shortcuts", "<Primary>question", NULL },
  { "win.close", "<Primary>w", NULL },
  { "app.quit", "<Primary>q", NULL },
};

const guint sw_window_n_accels = G_N_ELEMENTS (sw_window_accels);

/* ---- catalogues ---- */

/* A window of its own where photos are coming into this one: closing would stop them. */
static SwWindow *
window_to_open_in (SwWindow *self)
{
  SwWindow *other;

  if (!self->has_pages
      || !sw_photos_page_is_bringing_in (SW_PHOTOS_PAGE (sw_window_page (self, "photos"))))
    return self;
  other = sw_window_new (gtk_window_get_application (GTK_WINDOW (self)));
  gtk_window_present (GTK_WINDOW (other));
  return other;
}

static void
on_open_response (GtkNativeDialog *dialog, int response, SwWindow *self)
{
  g_autofree char *folder = NULL;

  if (response == GTK_RESPONSE_ACCEPT)
    folder = gtk_file_chooser_get_filename (GTK_FILE_CHOOSER (dialog));
  if (folder != NULL)
    sw_window_open (window_to_open_in (self), folder);
  sw_native_dialog_done (dialog);
}

static void
open_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwWindow *self = data;
  GtkFileChooserNative *dialog = gtk_file_chooser_native_new (
      _ ("Open a catalogue"), GTK_WINDOW (self), GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER, _ ("_Open"),
      _ ("_Cancel"));

  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  g_signal_connect (dialog, "response", G_CALLBACK (on_open_response), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}

/* Where a catalogue is open it stays open, with all that runs in it: the new one gets a window of
 * its own. */
static void
new_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwWindow *self = data;

  if (self->store != NULL)
    {
      self = sw_window_new (gtk_window_get_application (data));
      gtk_window_present (GTK_WINDOW (self));
    }
  sw_window_set_up_page (self);
  sw_window_show_view (self, "set-up");
  sw_set_up_page_begin (sw_window_set_up_page (self));
}

static void
set_up_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwWindow *self = data;

  sw_window_set_up_page (self);
  sw_window_show_view (self, "set-up");
  sw_set_up_page_resume (sw_window_set_up_page (self));
}

/* ---- pages and views ---- */

static void
undo_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  sw_store_undo (SW_WINDOW (data)->store);
}

static void
redo_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  sw_store_redo (SW_WINDOW (data)->store);
}

static void
page_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  const char *name = g_variant_get_string (parameter, NULL);

  sw_window_show_page (data, name);
  if (g_strcmp0 (name, "photos") == 0)
    sw_window_take_up_look (data);
}

static void
panel_state (GSimpleAction *action, GVariant *state, gpointer data)
{
  SwWindow *self = data;

  if (g_variant_get_boolean (state))
    sw_window_takings_panel (self);
  if (self->panel != NULL)
    gtk_revealer_set_reveal_child (GTK_REVEALER (self->panel), g_variant_get_boolean (state));
  sw_remembered_set_takings_open (g_variant_get_boolean (state));
  g_simple_action_set_state (action, state);
}

static void
search_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwWindow *self = data;

  sw_window_show_page (self, "property");
  sw_property_page_search (SW_PROPERTY_PAGE (sw_window_page (self, "property")));
}

static void
back_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwWindow *self = data;
  SwColumns *columns = sw_window_page_columns (self);

  if (sw_window_is_closer (self))
    sw_closer_view_leave (sw_window_closer (self));
  else if (sw_window_is_round (self))
    sw_decide_view_leave (sw_window_round_view (self));
  else if (columns != NULL)
    sw_columns_go_back (columns);
}

static void
round_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwWindow *self = data;

  if (sw_window_is_round (self))
    return;
  sw_window_show_page (self, "property");
  sw_window_round_view (self);
  gtk_stack_set_visible_child_name (GTK_STACK (self->over), "round");
  sw_decide_view_open (
      sw_window_round_view (self),
      sw_property_page_get_place (SW_PROPERTY_PAGE (sw_window_page (self, "property"))), 0);
  sw_window_follow_back (self);
}

/* FALSE, and said so, while photos are coming in. */
gboolean
sw_window_may_bring_in (SwWindow *self)
{
  if (!sw_photos_page_is_bringing_in (SW_PHOTOS_PAGE (sw_window_page (self, "photos"))))
    return TRUE;
  sw_window_show_page (self, "photos");
  sw_store_tell (self->store, _ ("Photos are coming in already; wait until they are there."), TRUE);
  return FALSE;
}

static void
bring_in_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwWindow *self = data;

  if (!sw_window_may_bring_in (self))
    return;
  sw_window_bring_in_view (self);
  sw_window_show_view (self, "bring-in");
  sw_bring_in_view_choose (sw_window_bring_in_view (self), TRUE);
}

/* ---- forms and files ---- */

static void
add_place_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  sw_form_add_place (GTK_WINDOW (data), SW_WINDOW (data)->store);
}

static void
add_trip_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  sw_form_add_trip (GTK_WINDOW (data), SW_WINDOW (data)->store);
}

static void
change_trip_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  sw_form_change_trip (GTK_WINDOW (data), SW_WINDOW (data)->store);
}

static void
cards_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  sw_cards_form_open (GTK_WINDOW (data), SW_WINDOW (data)->store);
}

static void
hand_out_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  sw_hand_out_open (GTK_WINDOW (data), SW_WINDOW (data)->store,
                    g_variant_get_string (parameter, NULL));
}

static gboolean
book_run (SwCatalogue *catalogue, gpointer path, GError **error)
{
  return sw_book_file (catalogue, path, NULL, error);
}

static void
on_book_response (GtkNativeDialog *dialog, int response, SwWindow *self)
{
  char *path = NULL;

  if (response == GTK_RESPONSE_ACCEPT)
    path = gtk_file_chooser_get_filename (GTK_FILE_CHOOSER (dialog));
  if (path != NULL && self->store != NULL)
    sw_store_act (self->store, book_run, g_steal_pointer (&path), g_free, NULL, NULL);
  g_free (path);
  sw_native_dialog_done (dialog);
}

static void
book_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  GtkFileChooserNative *dialog
      = gtk_file_chooser_native_new (_ ("Book a money table"), GTK_WINDOW (data),
                                     GTK_FILE_CHOOSER_ACTION_OPEN, _ ("_Book"), _ ("_Cancel"));
  GtkFileFilter *filter = gtk_file_filter_new ();

  gtk_file_filter_set_name (filter, _ ("Tables (CSV)"));
  gtk_file_filter_add_pattern (filter, "*.csv");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (dialog), filter);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  g_signal_connect (dialog, "response", G_CALLBACK (on_book_response), data);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}

/* ---- menu and help ---- */

/* The menu takes as long to make as it takes to draw a page: after the first frame, or when it is
 * asked for. */
void
sw_window_give_menu (SwWindow *self)
{
  GtkMenuButton *button = GTK_MENU_BUTTON (self->menu_button);

  if (gtk_menu_button_get_menu_model (button) == NULL)
    gtk_menu_button_set_menu_model (button, self->menu);
}

static void
menu_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwWindow *self = data;

  sw_window_give_menu (self);
  gtk_button_clicked (GTK_BUTTON (self->menu_button));
}

/* What the words of the page mean that is shown. */
static void
help_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwWindow *self = data;

  if (self->has_pages)
    sw_page_help_show (self->help, gtk_stack_get_visible_child_name (GTK_STACK (self->pages)));
}

static void
tour_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  sw_tour_begin (((SwWindow *)data)->help);
}

/* Built when it is asked for: by the name that GTK looks for it would be loaded before the first
 * frame. */
static void
shortcuts_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  GtkApplicationWindow *self = GTK_APPLICATION_WINDOW (data);

  if (gtk_application_window_get_help_overlay (self) == NULL)
    {
      g_autoptr (GtkBuilder) builder
          = gtk_builder_new_from_resource ("/org/shedwalk/Shedwalk/shortcuts.ui");
      GObject *overlay = gtk_builder_get_object (builder, "help_overlay");
      gtk_application_window_set_help_overlay (self, GTK_SHORTCUTS_WINDOW (overlay));
    }
  g_action_group_activate_action (G_ACTION_GROUP (self), "show-help-overlay", NULL);
}

static void
close_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  gtk_window_close (data);
}

static const GActionEntry actions[] = {
  { "open", open_action },         { "new", new_action },
  { "undo", undo_action },         { "redo", redo_action },
  { "page", page_action, "s" },    { "panel", NULL, NULL, "false", panel_state },
  { "search", search_action },     { "back", back_action },
  { "bring-in", bring_in_action }, { "add-place", add_place_action },
  { "add-trip", add_trip_action }, { "change-trip", change_trip_action },
  { "book", book_action },         { "menu", menu_action },
  { "set-up", set_up_action },     { "cards", cards_action },
  { "round", round_action },       { "hand-out", hand_out_action, "s" },
  { "close", close_action },       { "shortcuts", shortcuts_action },
  { "help", help_action },         { "tour", tour_action },
};

void
sw_window_enable (SwWindow *self, const char *name, gboolean enabled)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), name);
  g_simple_action_set_enabled (G_SIMPLE_ACTION (action), enabled);
}

void
sw_window_add_actions (SwWindow *self)
{
  g_action_map_add_action_entries (G_ACTION_MAP (self), actions, G_N_ELEMENTS (actions), self);
}
