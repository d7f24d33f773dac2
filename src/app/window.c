/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window holds the pages and what all of them share: undo, the line that says what happened,
 * the takings panel. What a page shows is the page's own business. */
#include "app/window.h"

#include "app/bring-in-view.h"
#include "app/cards-form.h"
#include "app/closer-view.h"
#include "app/columns.h"
#include "app/form-acts.h"
#include "app/forms.h"
#include "app/hand-outs.h"
#include "app/offer-page.h"
#include "app/photos-page.h"
#include "app/property-page.h"
#include "app/decide-view.h"
#include "app/page-help.h"
#include "app/remembered.h"
#include "app/set-up-page.h"
#include "app/start-page.h"
#include "app/takings-page.h"
#include "app/takings-panel.h"
#include "app/trip-page.h"
#include "app/text.h"
#include "app/tour.h"
#include "app/widgets.h"
#include "core/trade/book.h"

/* Catalogues open faster than that. */
#define SPINNER_MS 400

struct _SwWindow
{
  GtkApplicationWindow parent;
  SwStore *store;
  SwPictures *pictures;
  GtkWidget *header, *help, *back, *undo, *redo, *views, *spinner, *switcher, *pages, *start, *bar,
      *line, *line_undo, *set_up, *bring_in;
  GtkWidget *over, *closer, *round;
  GtkWidget *menu_button;
  GMenuModel *menu;                   /* the template's */
  const char *closer_over;            /* what it lies over: the pages or the round */
  GWeakRef closer_from, closer_owner; /* what had the focus before; who asked to look closer */
  SwClosedCloser closed;
  GtkWidget *line_icon, *catalogue, *panel_button, *panel_total, *panel;
  gboolean has_pages; /* a catalogue is open and its pages are made */
  guint back_idle, pages_idle, spinner_wait;
};

G_DEFINE_TYPE (SwWindow, sw_window, GTK_TYPE_APPLICATION_WINDOW)

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

/* ---- what is seen ---- */

/* The pages in the order of the work. 'columns' NULL: the page never folds. */
static GtkWidget *
make_takings (SwStore *store, SwPictures *pictures)
{
  return sw_takings_page_new (store);
}

static SwColumns *
property_columns (GtkWidget *page)
{
  return sw_property_page_columns (SW_PROPERTY_PAGE (page));
}

static const struct
{
  const char *name, *title;
  GtkWidget *(*make) (SwStore *store, SwPictures *pictures);
  SwColumns *(*columns) (GtkWidget *page);
} page_table[] = {
  { "photos", N_ ("Photos in"), sw_photos_page_new, NULL },
  { "property", N_ ("Property"), sw_property_page_new, property_columns },
  { "offer", N_ ("On offer"), sw_offer_page_new, NULL },
  { "trip", N_ ("Next trip"), sw_trip_page_new, NULL },
  { "takings", N_ ("Takings"), make_takings, NULL },
};

static gboolean is_closer (SwWindow *self);
static gboolean is_round (SwWindow *self);
static void on_made (GtkWidget *page, const char *folder, SwWindow *self);
static void on_set_up_left (SwWindow *self);
static void on_set_up_plan (SwWindow *self);
static void on_set_up_photos (SwWindow *self);
static void on_copy (GtkWidget *view, char **folders, SwWindow *self);
static void on_bring_in_left (SwWindow *self);
static void on_closer_left (SwCloserView *closer, gint64 photo, SwWindow *self);
static void on_round_left (SwDecideView *round, gint64 item, SwWindow *self);
static void on_start_open (SwStartPage *start, const char *folder, SwWindow *self);

static SwColumns *
page_columns (SwWindow *self)
{
  const char *shown = gtk_stack_get_visible_child_name (GTK_STACK (self->pages));

  for (guint i = 0; self->has_pages && i < G_N_ELEMENTS (page_table); i++)
    if (page_table[i].columns != NULL && g_strcmp0 (shown, page_table[i].name) == 0)
      return page_table[i].columns (sw_window_page (self, shown));
  return NULL;
}

static void
set_enabled (SwWindow *self, const char *name, gboolean enabled)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), name);
  g_simple_action_set_enabled (G_SIMPLE_ACTION (action), enabled);
}

static gboolean
follow_back_now (gpointer data)
{
  SwWindow *self = data;
  SwColumns *columns = page_columns (self);
  gboolean can = is_closer (self) || is_round (self)
                 || (columns != NULL && sw_columns_get_can_go_back (columns));

  self->back_idle = 0;
  gtk_widget_set_visible (self->back, can);
  set_enabled (self, "back", can);
  return G_SOURCE_REMOVE;
}

/* Columns fold while sizes are being given out; a button must not appear in the middle of that. */
static void
follow_back (SwWindow *self)
{
  if (self->back_idle == 0)
    self->back_idle = g_idle_add (follow_back_now, self);
}

static void
follow_undo (SwWindow *self)
{
  const SwOverview *overview = self->store != NULL ? sw_store_overview (self->store) : NULL;
  const char *undo = overview != NULL ? overview->undo : NULL;
  const char *redo = overview != NULL ? overview->redo : NULL;
  g_autofree char *undo_tip = g_strdup_printf (_ ("Undo: %s"), undo != NULL ? undo : "");
  g_autofree char *redo_tip = g_strdup_printf (_ ("Redo: %s"), redo != NULL ? redo : "");

  set_enabled (self, "undo", undo != NULL);
  set_enabled (self, "redo", redo != NULL);
  gtk_widget_set_tooltip_text (self->undo, undo != NULL ? undo_tip : _ ("Nothing to undo"));
  gtk_widget_set_tooltip_text (self->redo, redo != NULL ? redo_tip : _ ("Nothing to redo"));
}

static void
follow_panel (SwWindow *self)
{
  const SwOverview *overview = sw_store_overview (self->store);
  g_autofree char *total = sw_store_money_with_code (self->store, overview->takings.total.takings);
  g_autofree char *text = g_strdup_printf (_ ("Takings %s"), total);

  gtk_label_set_text (GTK_LABEL (self->panel_total), text);
}

/* Pictures that are kept show the photo as it was turned before. */
static void
forget_turned (SwWindow *self)
{
  g_autoptr (GArray) turned = sw_picture_source_take_turned (sw_store_picture_source (self->store));

  for (guint i = 0; i < turned->len; i++)
    sw_pictures_forget (self->pictures, g_array_index (turned, gint64, i));
}

static void
on_changed (SwWindow *self)
{
  const SwOverview *overview = sw_store_overview (self->store);

  gtk_header_bar_set_title (GTK_HEADER_BAR (self->header), overview->name);
  gtk_window_set_title (GTK_WINDOW (self), overview->name);
  gtk_header_bar_set_subtitle (GTK_HEADER_BAR (self->header),
                               overview->read_only ? _ ("read only") : NULL);
  follow_undo (self);
  follow_panel (self);
  forget_turned (self);
}

/* ---- views made when they are first asked for: not needed for the first frame ---- */

static SwSetUpPage *
set_up_page (SwWindow *self)
{
  if (self->set_up == NULL)
    {
      self->set_up = sw_set_up_page_new ();
      gtk_widget_show (self->set_up);
      gtk_stack_add_named (GTK_STACK (self->views), self->set_up, "set-up");
      g_signal_connect (self->set_up, "made", G_CALLBACK (on_made), self);
      g_signal_connect_swapped (self->set_up, "left", G_CALLBACK (on_set_up_left), self);
      g_signal_connect_swapped (self->set_up, "plan", G_CALLBACK (on_set_up_plan), self);
      g_signal_connect_swapped (self->set_up, "photos", G_CALLBACK (on_set_up_photos), self);
      if (self->has_pages)
        sw_set_up_page_set_store (SW_SET_UP_PAGE (self->set_up), self->store);
    }
  return SW_SET_UP_PAGE (self->set_up);
}

static SwBringInView *
bring_in_view (SwWindow *self)
{
  if (self->bring_in == NULL)
    {
      self->bring_in = g_object_new (SW_TYPE_BRING_IN_VIEW, "visible", TRUE, NULL);
      gtk_stack_add_named (GTK_STACK (self->views), self->bring_in, "bring-in");
      g_signal_connect (self->bring_in, "copy", G_CALLBACK (on_copy), self);
      g_signal_connect_swapped (self->bring_in, "leave", G_CALLBACK (on_bring_in_left), self);
      if (self->has_pages)
        sw_bring_in_view_set_store (SW_BRING_IN_VIEW (self->bring_in), self->store);
    }
  return SW_BRING_IN_VIEW (self->bring_in);
}

static SwCloserView *
closer_view (SwWindow *self)
{
  if (self->closer == NULL)
    {
      self->closer = g_object_new (SW_TYPE_CLOSER_VIEW, "visible", TRUE, NULL);
      gtk_stack_add_named (GTK_STACK (self->over), self->closer, "closer");
      g_signal_connect (self->closer, "left", G_CALLBACK (on_closer_left), self);
      if (self->has_pages)
        sw_closer_view_set_store (SW_CLOSER_VIEW (self->closer), self->store, self->pictures);
    }
  return SW_CLOSER_VIEW (self->closer);
}

static SwDecideView *
round_view (SwWindow *self)
{
  if (self->round == NULL)
    {
      self->round = g_object_new (SW_TYPE_DECIDE_VIEW, "visible", TRUE, NULL);
      gtk_stack_add_named (GTK_STACK (self->over), self->round, "round");
      g_signal_connect (self->round, "left", G_CALLBACK (on_round_left), self);
      if (self->has_pages)
        sw_decide_view_set_store (SW_DECIDE_VIEW (self->round), self->store, self->pictures);
    }
  return SW_DECIDE_VIEW (self->round);
}

static SwTakingsPanel *
panel (SwWindow *self)
{
  if (self->panel == NULL)
    {
      self->panel = g_object_new (SW_TYPE_TAKINGS_PANEL, NULL);
      gtk_container_add (GTK_CONTAINER (self->catalogue), self->panel);
      gtk_box_reorder_child (GTK_BOX (self->catalogue), self->panel, 1);
      if (self->has_pages)
        sw_takings_panel_set_store (SW_TAKINGS_PANEL (self->panel), self->store);
    }
  return SW_TAKINGS_PANEL (self->panel);
}

static SwStartPage *
start_page (SwWindow *self)
{
  if (self->start == NULL)
    {
      self->start = g_object_new (SW_TYPE_START_PAGE, "visible", TRUE, NULL);
      gtk_stack_add_named (GTK_STACK (self->views), self->start, "start");
      g_signal_connect (self->start, "open", G_CALLBACK (on_start_open), self);
    }
  return SW_START_PAGE (self->start);
}

/* Those that are there follow the catalogue: the open one, or none. */
static void
give_views_store (SwWindow *self)
{
  SwStore *store = self->has_pages ? self->store : NULL;

  if (self->closer != NULL)
    sw_closer_view_set_store (SW_CLOSER_VIEW (self->closer), store,
                              store != NULL ? self->pictures : NULL);
  if (self->round != NULL)
    sw_decide_view_set_store (SW_DECIDE_VIEW (self->round), store,
                              store != NULL ? self->pictures : NULL);
  if (self->panel != NULL)
    sw_takings_panel_set_store (SW_TAKINGS_PANEL (self->panel), store);
  if (self->set_up != NULL)
    sw_set_up_page_set_store (SW_SET_UP_PAGE (self->set_up), store);
  if (self->bring_in != NULL)
    sw_bring_in_view_set_store (SW_BRING_IN_VIEW (self->bring_in), store);
}

static void
on_told (SwStore *store, const char *sentence, gboolean can_undo, gboolean is_problem,
         SwWindow *self)
{
  GtkStyleContext *style = gtk_widget_get_style_context (self->bar);

  gtk_label_set_text (GTK_LABEL (self->line), sentence);
  gtk_widget_set_tooltip_text (self->line, sentence);
  gtk_widget_set_visible (self->line_undo, can_undo);
  gtk_widget_set_visible (self->line_icon, is_problem);
  if (is_problem)
    gtk_style_context_add_class (style, "sw-refused");
  else
    gtk_style_context_remove_class (style, "sw-refused");
  g_signal_emit_by_name (gtk_widget_get_accessible (self->line), "announcement", sentence);
}

/* ---- opening ---- */

static void
remember (const char *folder)
{
  g_autofree char *uri = g_filename_to_uri (folder, NULL, NULL);
  char *groups[] = { (char *)"Shedwalk", NULL };
  GtkRecentData recent = { .mime_type = (char *)"application/x-shedwalk",
                           .app_name = (char *)"Shedwalk",
                           .app_exec = (char *)"shedwalk %f",
                           .groups = groups };

  if (uri != NULL)
    gtk_recent_manager_add_full (gtk_recent_manager_get_default (), uri, &recent);
}

static GdkPixbuf *
load_picture (gint64 photo, SwPictureSize size, gpointer source)
{
  return sw_picture_source_load (source, photo, size == SW_PICTURE_LARGE);
}

/* The page in its holder, made where it is not there yet. */
static GtkWidget *
page_at (SwWindow *self, guint i)
{
  GtkWidget *holder = gtk_stack_get_child_by_name (GTK_STACK (self->pages), page_table[i].name);
  g_autoptr (GList) inside = gtk_container_get_children (GTK_CONTAINER (holder));
  GtkWidget *page;

  if (inside != NULL)
    return inside->data;
  page = page_table[i].make (self->store, self->pictures);
  gtk_box_pack_start (GTK_BOX (holder), page, TRUE, TRUE, 0);
  gtk_widget_show (page);
  if (page_table[i].columns != NULL)
    g_signal_connect_object (page_table[i].columns (page), "notify::can-go-back",
                             G_CALLBACK (follow_back), self, G_CONNECT_SWAPPED);
  return page;
}

static gboolean
is_made (SwWindow *self, guint i)
{
  GtkWidget *holder = gtk_stack_get_child_by_name (GTK_STACK (self->pages), page_table[i].name);
  g_autoptr (GList) inside = gtk_container_get_children (GTK_CONTAINER (holder));

  return inside != NULL;
}

/* The menu takes as long to make as it takes to draw a page: after the first frame, or when it is
 * asked for. */
static void
give_menu (SwWindow *self)
{
  GtkMenuButton *button = GTK_MENU_BUTTON (self->menu_button);

  if (gtk_menu_button_get_menu_model (button) == NULL)
    gtk_menu_button_set_menu_model (button, self->menu);
}

/* One page at a time, when there is nothing else to do. */
static gboolean
make_next_page (gpointer data)
{
  SwWindow *self = data;

  give_menu (self);
  for (guint i = 0; i < G_N_ELEMENTS (page_table); i++)
    if (!is_made (self, i))
      {
        page_at (self, i);
        return G_SOURCE_CONTINUE;
      }
  round_view (self); /* its many fields take longer to make than a frame lasts */
  /* its parents were measured before the titles could wrap, and GTK keeps that */
  gtk_widget_queue_resize (self->switcher);
  self->pages_idle = 0;
  return G_SOURCE_REMOVE;
}

/* A look at a folder that was left for another page is what "Photos in" shows. */
static void
take_up_look (SwWindow *self)
{
  if (self->bring_in == NULL || !sw_bring_in_view_has_look (bring_in_view (self)))
    return;
  gtk_stack_set_visible_child_name (GTK_STACK (self->views), "bring-in");
  sw_bring_in_view_take_up (bring_in_view (self));
}

static void
on_page_shown (SwWindow *self)
{
  const char *shown = gtk_stack_get_visible_child_name (GTK_STACK (self->pages));

  if (self->has_pages && shown != NULL)
    sw_window_page (self, shown);
  follow_back (self);
  if (g_strcmp0 (shown, "photos") == 0
      && g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->views)), "catalogue") == 0)
    take_up_look (self);
}

/* Where letters are large the titles of five pages need two lines beside a browser. */
static void
wrap_title (GtkWidget *button, gpointer data)
{
  GtkWidget *label = gtk_bin_get_child (GTK_BIN (button));

  gtk_label_set_line_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_CENTER);
}

/* Holders alone: the page that is seen is made first, so that what the person waits for comes
 * before what they may look at later. */
static void
add_pages (SwWindow *self)
{
  for (guint i = 0; i < G_N_ELEMENTS (page_table); i++)
    {
      GtkWidget *holder = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
      gtk_widget_show (holder);
      gtk_stack_add_titled (GTK_STACK (self->pages), holder, page_table[i].name,
                            _ (page_table[i].title));
    }
  gtk_container_foreach (GTK_CONTAINER (self->switcher), wrap_title, NULL);
  self->has_pages = TRUE;
  gtk_widget_show (self->help);
  self->pages_idle = g_idle_add_full (G_PRIORITY_LOW, make_next_page, self, NULL);
}

static void
close_catalogue (SwWindow *self)
{
  self->has_pages = FALSE;
  gtk_widget_hide (self->help);
  g_clear_handle_id (&self->pages_idle, g_source_remove);
  g_clear_handle_id (&self->spinner_wait, g_source_remove);
  give_views_store (self);
  gtk_stack_set_visible_child_name (GTK_STACK (self->over), "pages");
  sw_container_empty (self->pages);
  if (self->store != NULL)
    {
      g_signal_handlers_disconnect_by_data (self->store, self);
      g_object_run_dispose (G_OBJECT (self->store));
    }
  g_clear_object (&self->store);
  g_clear_object (&self->pictures);
}

static void
without_catalogue (SwWindow *self)
{
  static const char *const with_catalogue[]
      = { "undo",     "redo", "page",   "panel", "search", "back",     "bring-in", "add-place",
          "add-trip", "book", "set-up", "cards", "round",  "hand-out", "tour" };

  for (guint i = 0; i < G_N_ELEMENTS (with_catalogue); i++)
    set_enabled (self, with_catalogue[i], FALSE);
  gtk_widget_hide (self->back);
  gtk_widget_hide (self->undo);
  gtk_widget_hide (self->redo);
  gtk_header_bar_set_title (GTK_HEADER_BAR (self->header), "Shedwalk");
  gtk_header_bar_set_subtitle (GTK_HEADER_BAR (self->header), NULL);
  gtk_window_set_title (GTK_WINDOW (self), "Shedwalk");
}

static void
show_start (SwWindow *self, const char *problem)
{
  without_catalogue (self);
  give_menu (self);
  sw_start_page_refresh (start_page (self));
  sw_start_page_set_problem (start_page (self), problem);
  gtk_stack_set_visible_child_name (GTK_STACK (self->views), "start");
}

static void
show_view (SwWindow *self, const char *name)
{
  if (is_closer (self))
    sw_closer_view_leave (closer_view (self));
  if (is_round (self))
    sw_decide_view_leave (round_view (self));
  gtk_stack_set_visible_child_name (GTK_STACK (self->views), name);
}

/* What a catalogue opens with: its set-up where that was left half-way, else its pages. */
static void
show_first (SwWindow *self)
{
  const SwOverview *overview = sw_store_overview (self->store);
  SwSetUpStep step = overview->set_up->step;

  gtk_stack_set_visible_child_name (GTK_STACK (self->pages),
                                    overview->n_photos > 0 ? "property" : "photos");
  on_page_shown (self);
  if (step == SW_SET_UP_DONE || overview->read_only
      || (step == SW_SET_UP_PHOTOS && overview->n_photos > 0))
    {
      show_view (self, "catalogue");
      return;
    }
  set_up_page (self);
  show_view (self, "set-up");
  sw_set_up_page_resume (set_up_page (self));
}

static void
on_opened (SwStore *store, const char *problem, SwWindow *self)
{
  static const char *const always[]
      = { "page", "panel", "search", "add-place", "add-trip", "book", "cards", "hand-out", "tour" };
  gboolean writable;

  g_clear_handle_id (&self->spinner_wait, g_source_remove);
  if (problem != NULL)
    {
      g_autofree char *kept = g_strdup (problem);
      close_catalogue (self);
      show_start (self, kept);
      return;
    }
  remember (sw_store_folder (store));
  gtk_widget_show (self->undo);
  gtk_widget_show (self->redo);
  for (guint i = 0; i < G_N_ELEMENTS (always); i++)
    set_enabled (self, always[i], TRUE);
  writable = !sw_store_overview (store)->read_only;
  set_enabled (self, "bring-in", writable);
  set_enabled (self, "set-up", writable);
  set_enabled (self, "round", writable);
  add_pages (self);
  give_views_store (self);
  gtk_label_set_text (GTK_LABEL (self->line), "");
  gtk_widget_hide (self->line_undo);
  gtk_widget_hide (self->line_icon);
  show_first (self);
  follow_back (self);
  if (sw_remembered_get_takings_open ())
    sw_window_show_panel (self, TRUE);
}

static gboolean
show_spinner (gpointer data)
{
  SwWindow *self = data;

  self->spinner_wait = 0;
  gtk_widget_show (self->spinner);
  give_menu (self);
  return G_SOURCE_REMOVE;
}

/* A spinner where it takes long enough to be wondered at; the first frame does without. */
static void
show_opening (SwWindow *self)
{
  gtk_widget_hide (self->spinner);
  g_clear_handle_id (&self->spinner_wait, g_source_remove);
  self->spinner_wait = g_timeout_add (SPINNER_MS, show_spinner, self);
  gtk_stack_set_visible_child_name (GTK_STACK (self->views), "opening");
}

void
sw_window_open (SwWindow *self, const char *folder)
{
  SwPictureSource *source;

  close_catalogue (self);
  show_opening (self);
  self->store = sw_store_new (folder);
  source = sw_picture_source_ref (sw_store_picture_source (self->store));
  self->pictures = sw_pictures_new (load_picture, source, (GDestroyNotify)sw_picture_source_unref);
  g_signal_connect (self->store, "opened", G_CALLBACK (on_opened), self);
  g_signal_connect_swapped (self->store, "changed", G_CALLBACK (on_changed), self);
  g_signal_connect (self->store, "told", G_CALLBACK (on_told), self);
}

/* ---- actions ---- */

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
  set_up_page (self);
  show_view (self, "set-up");
  sw_set_up_page_begin (set_up_page (self));
}

static void
on_made (GtkWidget *page, const char *folder, SwWindow *self)
{
  sw_window_open (self, folder);
}

static void
on_set_up_left (SwWindow *self)
{
  show_start (self, NULL);
}

static void
set_up_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwWindow *self = data;

  set_up_page (self);
  show_view (self, "set-up");
  sw_set_up_page_resume (set_up_page (self));
}

static void
on_set_up_plan (SwWindow *self)
{
  sw_window_show_page (self, "property");
  sw_store_tell (self->store,
                 _ ("Drag each box to where it stands. Set up, in the menu, goes on from here."),
                 FALSE);
}

static void
on_set_up_photos (SwWindow *self)
{
  bring_in_view (self);
  show_view (self, "bring-in");
  sw_bring_in_view_choose (bring_in_view (self), FALSE);
}

/* ---- bringing in ---- */

/* Photos are the last step of the set-up: it is through once the person has chosen or gone on. */
static void
end_set_up (SwWindow *self)
{
  static const SwSetUp done = { .step = SW_SET_UP_DONE };

  if (sw_store_overview (self->store)->set_up->step == SW_SET_UP_PHOTOS)
    sw_form_keep_set_up (self->store, &done);
}

static void
on_copy (GtkWidget *view, char **folders, SwWindow *self)
{
  end_set_up (self);
  sw_window_show_page (self, "photos");
  sw_photos_page_bring_in (SW_PHOTOS_PAGE (sw_window_page (self, "photos")),
                           (const char *const *)folders);
}

static void
on_bring_in_left (SwWindow *self)
{
  end_set_up (self);
  sw_window_show_page (self, "photos");
}

/* FALSE, and said so, while photos are coming in. */
static gboolean
may_bring_in (SwWindow *self)
{
  if (!sw_photos_page_is_bringing_in (SW_PHOTOS_PAGE (sw_window_page (self, "photos"))))
    return TRUE;
  sw_window_show_page (self, "photos");
  sw_store_tell (self->store, _ ("Photos are coming in already; wait until they are there."), TRUE);
  return FALSE;
}

static GPtrArray *
dropped_paths (GtkSelectionData *selection)
{
  g_auto (GStrv) uris = gtk_selection_data_get_uris (selection);
  GPtrArray *paths = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; uris != NULL && uris[i] != NULL; i++)
    {
      char *path = g_filename_from_uri (uris[i], NULL, NULL);
      if (path != NULL)
        g_ptr_array_add (paths, path);
    }
  return paths;
}

/* A folder dropped anywhere: its photos are looked at. Without a catalogue only a catalogue can be
 * opened. */
static void
on_dropped (GtkWidget *widget, GdkDragContext *context, int x, int y, GtkSelectionData *selection,
            guint info, guint time, gpointer data)
{
  SwWindow *self = SW_WINDOW (widget);
  g_autoptr (GPtrArray) paths = dropped_paths (selection);

  gtk_drag_finish (context, paths->len > 0, FALSE, time);
  if (paths->len == 0)
    return;
  if (!self->has_pages)
    {
      if (self->store == NULL && g_str_has_suffix (g_ptr_array_index (paths, 0), ".shedwalk"))
        sw_window_open (self, g_ptr_array_index (paths, 0));
      else if (self->store == NULL)
        show_start (self, _ ("Make a catalogue or open one; then drop the photos."));
      return;
    }
  g_ptr_array_add (paths, NULL);
  if (!sw_store_overview (self->store)->read_only && may_bring_in (self))
    sw_window_look_at (self, (const char *const *)paths->pdata);
}

void
sw_window_look_at (SwWindow *self, const char *const *folders)
{
  bring_in_view (self);
  show_view (self, "bring-in");
  sw_bring_in_view_look (bring_in_view (self), folders);
}

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
    take_up_look (data);
}

static void
panel_state (GSimpleAction *action, GVariant *state, gpointer data)
{
  SwWindow *self = data;

  if (g_variant_get_boolean (state))
    panel (self);
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
  SwColumns *columns = page_columns (self);

  if (is_closer (self))
    sw_closer_view_leave (closer_view (self));
  else if (is_round (self))
    sw_decide_view_leave (round_view (self));
  else if (columns != NULL)
    sw_columns_go_back (columns);
}

static void
round_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwWindow *self = data;

  if (is_round (self))
    return;
  sw_window_show_page (self, "property");
  round_view (self);
  gtk_stack_set_visible_child_name (GTK_STACK (self->over), "round");
  sw_decide_view_open (
      round_view (self),
      sw_property_page_get_place (SW_PROPERTY_PAGE (sw_window_page (self, "property"))), 0);
  follow_back (self);
}

static void
on_round_left (SwDecideView *round, gint64 item, SwWindow *self)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->over), "pages");
  follow_back (self);
  if (self->has_pages && item != 0)
    sw_property_page_show_item (SW_PROPERTY_PAGE (sw_window_page (self, "property")), item);
}

static void
bring_in_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwWindow *self = data;

  if (!may_bring_in (self))
    return;
  bring_in_view (self);
  show_view (self, "bring-in");
  sw_bring_in_view_choose (bring_in_view (self), TRUE);
}

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

static void
menu_action (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SwWindow *self = data;

  give_menu (self);
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
  { "open", open_action },
  { "new", new_action },
  { "undo", undo_action },
  { "redo", redo_action },
  { "page", page_action, "s" },
  { "panel", NULL, NULL, "false", panel_state },
  { "search", search_action },
  { "back", back_action },
  { "bring-in", bring_in_action },
  { "add-place", add_place_action },
  { "add-trip", add_trip_action },
  { "book", book_action },
  { "menu", menu_action },
  { "set-up", set_up_action },
  { "cards", cards_action },
  { "round", round_action },
  { "hand-out", hand_out_action, "s" },
  { "close", close_action },
  { "shortcuts", shortcuts_action },
  { "help", help_action },
  { "tour", tour_action },
};

/* ---- object ---- */

static void
on_start_open (SwStartPage *start, const char *folder, SwWindow *self)
{
  g_autofree char *kept = g_strdup (folder); /* the page is rebuilt while it opens */
  sw_window_open (self, kept);
}

/* ---- looking closer ---- */

static gboolean
is_closer (SwWindow *self)
{
  return self->over != NULL
         && g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->over)), "closer") == 0;
}

static gboolean
is_round (SwWindow *self)
{
  return self->over != NULL
         && g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->over)), "round") == 0;
}

static void
on_closer_left (SwCloserView *closer, gint64 photo, SwWindow *self)
{
  g_autoptr (GtkWidget) from = g_weak_ref_get (&self->closer_from);
  g_autoptr (GObject) owner = g_weak_ref_get (&self->closer_owner);

  gtk_stack_set_visible_child_name (GTK_STACK (self->over), self->closer_over);
  follow_back (self);
  if (from != NULL && gtk_widget_get_mapped (from))
    gtk_widget_grab_focus (from);
  if (owner != NULL && self->closed != NULL)
    self->closed (owner, photo);
}

void
sw_window_look_closer (SwWindow *self, const gint64 *photos, guint n, gint64 current,
                       GObject *owner, SwClosedCloser closed)
{
  if (n == 0 || self->store == NULL)
    return;
  if (!is_closer (self))
    {
      g_weak_ref_set (&self->closer_from, gtk_window_get_focus (GTK_WINDOW (self)));
      self->closer_over = is_round (self) ? "round" : "pages";
    }
  g_weak_ref_set (&self->closer_owner, owner);
  self->closed = closed;
  closer_view (self);
  gtk_stack_set_visible_child_name (GTK_STACK (self->over), "closer");
  sw_closer_view_open (closer_view (self), photos, n, current);
  follow_back (self);
}

SwCloserView *
sw_window_closer (SwWindow *self)
{
  return closer_view (self);
}

static void
sw_window_dispose (GObject *object)
{
  SwWindow *self = SW_WINDOW (object);

  if (self->views != NULL)
    close_catalogue (self);
  g_clear_handle_id (&self->back_idle, g_source_remove);
  self->views = self->over = NULL;
  G_OBJECT_CLASS (sw_window_parent_class)->dispose (object);
}

static void
sw_window_finalize (GObject *object)
{
  SwWindow *self = SW_WINDOW (object);

  g_weak_ref_clear (&self->closer_from);
  g_weak_ref_clear (&self->closer_owner);
  G_OBJECT_CLASS (sw_window_parent_class)->finalize (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwWindow, name)

static void
sw_window_class_init (SwWindowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_window_dispose;
  G_OBJECT_CLASS (klass)->finalize = sw_window_finalize;
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/window.ui");
  BIND (header);
  BIND (back);
  BIND (undo);
  BIND (redo);
  BIND (help);
  BIND (views);
  BIND (spinner);
  BIND (over);
  BIND (switcher);
  BIND (pages);
  BIND (bar);
  BIND (line);
  BIND (line_undo);
  BIND (line_icon);
  BIND (panel_button);
  BIND (panel_total);
  BIND (catalogue);
  BIND (menu_button);
  BIND (menu);
  gtk_widget_class_bind_template_callback (widget, on_page_shown);
}

static void
sw_window_init (SwWindow *self)
{
  g_weak_ref_init (&self->closer_from, NULL);
  g_weak_ref_init (&self->closer_owner, NULL);
  gtk_widget_init_template (GTK_WIDGET (self));
  g_action_map_add_action_entries (G_ACTION_MAP (self), actions, G_N_ELEMENTS (actions), self);
  gtk_widget_set_sensitive (self->menu_button, TRUE); /* its menu comes soon */
  atk_object_set_role (gtk_widget_get_accessible (self->line), ATK_ROLE_STATUSBAR);
  gtk_drag_dest_set (GTK_WIDGET (self), GTK_DEST_DEFAULT_ALL, NULL, 0, GDK_ACTION_COPY);
  gtk_drag_dest_add_uri_targets (GTK_WIDGET (self));
  g_signal_connect (self, "drag-data-received", G_CALLBACK (on_dropped), NULL);
  sw_remembered_follow (GTK_WINDOW (self));
  without_catalogue (self);
}

SwWindow *
sw_window_new (GtkApplication *app)
{
  return g_object_new (SW_TYPE_WINDOW, "application", app, NULL);
}

void
sw_window_start (SwWindow *self)
{
  show_start (self, NULL);
}

SwStore *
sw_window_store (SwWindow *self)
{
  return self->store;
}

const char *
sw_window_get_problem (SwWindow *self)
{
  return self->start != NULL ? sw_start_page_get_problem (SW_START_PAGE (self->start)) : NULL;
}

void
sw_window_show_page (SwWindow *self, const char *name)
{
  if (self->store == NULL || gtk_stack_get_child_by_name (GTK_STACK (self->pages), name) == NULL)
    return;
  show_view (self, "catalogue");
  gtk_stack_set_visible_child_name (GTK_STACK (self->pages), name);
}

gboolean
sw_window_is_settled (SwWindow *self)
{
  if (self->store == NULL)
    return TRUE;
  return self->has_pages && self->pages_idle == 0 && !sw_store_is_busy (self->store)
         && sw_pictures_is_idle (self->pictures)
         && (self->closer == NULL || sw_closer_view_is_idle (SW_CLOSER_VIEW (self->closer)))
         && (self->bring_in == NULL
             || !sw_bring_in_view_is_busy (SW_BRING_IN_VIEW (self->bring_in)))
         && sw_photos_page_is_settled (SW_PHOTOS_PAGE (sw_window_page (self, "photos")));
}

void
sw_window_show_panel (SwWindow *self, gboolean shown)
{
  g_action_group_change_action_state (G_ACTION_GROUP (self), "panel",
                                      g_variant_new_boolean (shown));
}

GtkWidget *
sw_window_page (SwWindow *self, const char *name)
{
  for (guint i = 0; self->has_pages && i < G_N_ELEMENTS (page_table); i++)
    if (g_str_equal (page_table[i].name, name))
      return page_at (self, i);
  return NULL;
}
