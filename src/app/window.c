/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window holds the pages and what all of them share: undo, the line that says what happened,
 * the takings panel. What a page shows is the page's own business. */
#include "app/window-private.h"

#include "app/closer-view.h"
#include "app/photos-page.h"
#include "app/remembered.h"
#include "app/widgets.h"

/* Catalogues open faster than that. */
#define SPINNER_MS 400

/* A window that is shown has drawn its first frame by then; one that starts hidden draws none. */
#define FRAME_MS 300

G_DEFINE_TYPE (SwWindow, sw_window, GTK_TYPE_APPLICATION_WINDOW)

static void
follow_undo (SwWindow *self)
{
  const SwOverview *overview = self->store != NULL ? sw_store_overview (self->store) : NULL;
  const char *undo = overview != NULL ? overview->undo : NULL;
  const char *redo = overview != NULL ? overview->redo : NULL;
  g_autofree char *undo_tip = g_strdup_printf (_ ("Undo: %s"), undo != NULL ? undo : "");
  g_autofree char *redo_tip = g_strdup_printf (_ ("Redo: %s"), redo != NULL ? redo : "");

  sw_window_enable (self, "undo", undo != NULL);
  sw_window_enable (self, "redo", redo != NULL);
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

static void stop_waiting (SwWindow *self);

static void
close_catalogue (SwWindow *self)
{
  stop_waiting (self);
  self->has_pages = FALSE;
  gtk_widget_hide (self->help);
  g_clear_handle_id (&self->pages_idle, g_source_remove);
  g_clear_handle_id (&self->spinner_wait, g_source_remove);
  sw_window_give_store (self);
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
      = { "undo",     "redo",        "page", "panel",  "search", "back",  "bring-in", "add-place",
          "add-trip", "change-trip", "book", "set-up", "cards",  "round", "hand-out", "tour" };

  for (guint i = 0; i < G_N_ELEMENTS (with_catalogue); i++)
    sw_window_enable (self, with_catalogue[i], FALSE);
  gtk_widget_hide (self->back);
  gtk_widget_hide (self->undo);
  gtk_widget_hide (self->redo);
  gtk_header_bar_set_title (GTK_HEADER_BAR (self->header), "Shedwalk");
  gtk_header_bar_set_subtitle (GTK_HEADER_BAR (self->header), NULL);
  gtk_window_set_title (GTK_WINDOW (self), "Shedwalk");
}

void
sw_window_show_start (SwWindow *self, const char *problem)
{
  without_catalogue (self);
  sw_window_give_menu (self);
  sw_start_page_refresh (sw_window_start_page (self));
  sw_start_page_set_problem (sw_window_start_page (self), problem);
  gtk_stack_set_visible_child_name (GTK_STACK (self->views), "start");
}

/* What a catalogue opens with: its set-up where that was left half-way, else its pages. */
static void
show_first (SwWindow *self)
{
  const SwOverview *overview = sw_store_overview (self->store);
  SwSetUpStep step = overview->set_up->step;

  gtk_stack_set_visible_child_name (GTK_STACK (self->pages),
                                    overview->n_photos > 0 ? "property" : "photos");
  sw_window_follow_page (self);
  if (step == SW_SET_UP_DONE || overview->read_only
      || (step == SW_SET_UP_PHOTOS && overview->n_photos > 0))
    {
      sw_window_show_view (self, "catalogue");
      return;
    }
  sw_window_set_up_page (self);
  sw_window_show_view (self, "set-up");
  sw_set_up_page_resume (sw_window_set_up_page (self));
}

static void
on_opened (SwStore *store, const char *problem, SwWindow *self)
{
  static const char *const always[] = { "page",        "panel", "search", "add-place", "add-trip",
                                        "change-trip", "book",  "cards",  "hand-out",  "tour" };
  gboolean writable;

  g_clear_handle_id (&self->spinner_wait, g_source_remove);
  if (problem != NULL)
    {
      g_autofree char *kept = g_strdup (problem);
      close_catalogue (self);
      sw_window_show_start (self, kept);
      return;
    }
  remember (sw_store_folder (store));
  gtk_widget_show (self->undo);
  gtk_widget_show (self->redo);
  for (guint i = 0; i < G_N_ELEMENTS (always); i++)
    sw_window_enable (self, always[i], TRUE);
  writable = !sw_store_overview (store)->read_only;
  sw_window_enable (self, "bring-in", writable);
  sw_window_enable (self, "set-up", writable);
  sw_window_enable (self, "round", writable);
  sw_window_add_pages (self);
  sw_window_give_store (self);
  gtk_label_set_text (GTK_LABEL (self->line), "");
  gtk_widget_hide (self->line_undo);
  gtk_widget_hide (self->line_icon);
  show_first (self);
  sw_window_follow_back (self);
  if (sw_remembered_get_takings_open ())
    sw_window_show_panel (self, TRUE);
}

static gboolean
show_spinner (gpointer data)
{
  SwWindow *self = data;

  self->spinner_wait = 0;
  gtk_widget_show (self->spinner);
  sw_window_give_menu (self);
  return G_SOURCE_REMOVE;
}

/* A spinner where it takes long enough to be wondered at; the first frame does without. */
static void
show_opening (SwWindow *self)
{
  gtk_widget_hide (self->spinner);
  self->spinner_wait = g_timeout_add (SPINNER_MS, show_spinner, self);
  gtk_stack_set_visible_child_name (GTK_STACK (self->views), "opening");
}

/* ---- the window first, then what is in it ---- */

static void
begin_opening (SwWindow *self)
{
  stop_waiting (self);
  sw_store_open (self->store);
}

static gboolean
on_frame_wait (gpointer data)
{
  begin_opening (data);
  return G_SOURCE_REMOVE;
}

static void
on_mapped (SwWindow *self)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (GTK_WIDGET (self));

  g_signal_handlers_disconnect_by_func (self, on_mapped, NULL);
  g_signal_connect_object (clock, "after-paint", G_CALLBACK (begin_opening), self,
                           G_CONNECT_SWAPPED);
}

static void
stop_waiting (SwWindow *self)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (GTK_WIDGET (self));

  g_clear_handle_id (&self->frame_wait, g_source_remove);
  g_signal_handlers_disconnect_by_func (self, on_mapped, NULL);
  if (clock != NULL)
    g_signal_handlers_disconnect_by_func (clock, begin_opening, self);
}

/* The catalogue's thread would take the processor from the drawing of a window that the person is
 * waiting to see. */
static void
open_after_first_frame (SwWindow *self)
{
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    {
      begin_opening (self);
      return;
    }
  self->frame_wait = g_timeout_add (FRAME_MS, on_frame_wait, self);
  g_signal_connect_after (self, "map", G_CALLBACK (on_mapped), NULL);
}

void
sw_window_open (SwWindow *self, const char *folder)
{
  close_catalogue (self);
  show_opening (self);
  self->store = sw_store_new (folder);
  self->pictures = sw_pictures_new (sw_store_picture_source (self->store));
  g_signal_connect (self->store, "opened", G_CALLBACK (on_opened), self);
  g_signal_connect_swapped (self->store, "changed", G_CALLBACK (on_changed), self);
  g_signal_connect (self->store, "told", G_CALLBACK (on_told), self);
  open_after_first_frame (self);
}

/* ---- photos dropped on it ---- */

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
        sw_window_show_start (self, _ ("Make a catalogue or open one; then drop the photos."));
      return;
    }
  g_ptr_array_add (paths, NULL);
  if (!sw_store_overview (self->store)->read_only && sw_window_may_bring_in (self))
    sw_window_look_at (self, (const char *const *)paths->pdata);
}

/* ---- object ---- */

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
  gtk_widget_class_bind_template_callback_full (widget, "on_page_shown",
                                                G_CALLBACK (sw_window_follow_page));
}

static void
sw_window_init (SwWindow *self)
{
  g_weak_ref_init (&self->closer_from, NULL);
  g_weak_ref_init (&self->closer_owner, NULL);
  gtk_widget_init_template (GTK_WIDGET (self));
  sw_window_add_actions (self);
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
  sw_window_show_start (self, NULL);
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
