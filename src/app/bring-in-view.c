/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is asked and shown before a bring-in. The look itself is core's, run by a job; what is shown
 * of it is put together in preview-rows.c. */
#include "app/bring-in-view.h"

#include "app/media.h"
#include "app/preview-job.h"
#include "app/preview-rows.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/base/text.h"

struct _SwBringInView
{
  GtkBox parent;
  SwStore *store; /* NULL while none is open */
  SwMedia *media;
  SwPreviewJob *job;
  char **folders;
  gboolean ask_at_once;
  GtkWidget *stack, *step, *media_box, *choose;
  GtkWidget *looking_at, *progress, *progress_text, *cancel_look;
  GtkWidget *problem, *choose_again;
  GtkWidget *found, *found_at, *rows, *cancel, *copy;
};

enum
{
  COPY,
  LEAVE,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwBringInView, sw_bring_in_view, GTK_TYPE_BOX)

static void
show (SwBringInView *self, const char *state, GtkWidget *focus)
{
  GtkWidget *window = gtk_widget_get_toplevel (GTK_WIDGET (self));

  /* else the stack hands the focus to the first entry of the state, on the way to where it belongs
   */
  if (GTK_IS_WINDOW (window))
    gtk_window_set_focus (GTK_WINDOW (window), NULL);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), state);
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    gtk_widget_grab_focus (focus);
}

/* ---- choosing ---- */

static void
on_choose_response (GtkNativeDialog *dialog, int response, SwBringInView *self)
{
  g_autofree char *folder = NULL;
  const char *folders[] = { NULL, NULL };

  if (response == GTK_RESPONSE_ACCEPT)
    folder = gtk_file_chooser_get_filename (GTK_FILE_CHOOSER (dialog));
  folders[0] = folder;
  if (folder != NULL && self->store != NULL)
    sw_bring_in_view_look (self, folders);
  sw_native_dialog_done (dialog);
}

static void
on_choose (SwBringInView *self)
{
  GtkWidget *window = gtk_widget_get_toplevel (GTK_WIDGET (self));
  GtkFileChooserNative *dialog = gtk_file_chooser_native_new (
      _ ("Folder with the photos"), GTK_WINDOW (window), GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER,
      _ ("_Look at it"), _ ("_Cancel"));

  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  g_signal_connect_object (dialog, "response", G_CALLBACK (on_choose_response), self, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}

static void
on_medium (GtkButton *button, SwBringInView *self)
{
  const char *folders[] = { g_object_get_data (G_OBJECT (button), "sw-path"), NULL };

  sw_bring_in_view_look (self, folders);
}

/* "CARD, holds photos" with its path below; one click looks at it. */
static void
add_medium (SwBringInView *self, const SwMedium *medium)
{
  GtkWidget *button = gtk_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *lines = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
  g_autofree char *name = sw_text_printable (medium->name, -1);
  g_autofree char *text
      = medium->has_photos ? g_strdup_printf (_ ("%s, with photos"), name) : g_strdup (name);
  GtkWidget *label = sw_container_add_line (lines, text, NULL);
  GtkWidget *path = sw_container_add_line (lines, medium->path, GTK_STYLE_CLASS_DIM_LABEL);

  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_label_set_ellipsize (GTK_LABEL (path), PANGO_ELLIPSIZE_START);
  gtk_container_add (GTK_CONTAINER (box),
                     gtk_image_new_from_gicon (medium->icon, GTK_ICON_SIZE_LARGE_TOOLBAR));
  gtk_container_add (GTK_CONTAINER (box), lines);
  gtk_container_add (GTK_CONTAINER (button), box);
  atk_object_set_name (gtk_widget_get_accessible (button), text);
  g_object_set_data_full (G_OBJECT (button), "sw-path", g_strdup (medium->path), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (on_medium), self);
  gtk_widget_show_all (button);
  gtk_container_add (GTK_CONTAINER (self->media_box), button);
}

static gboolean
is_choosing (SwBringInView *self)
{
  return g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->stack)), "choose") == 0;
}

/* The first with photos has the focus, so that one key looks at it. */
static void
focus_first (SwBringInView *self)
{
  const GPtrArray *list = sw_media_list (self->media);
  g_autoptr (GList) buttons = gtk_container_get_children (GTK_CONTAINER (self->media_box));
  gboolean any
      = list->len > 0 && ((const SwMedium *)g_ptr_array_index (list, 0))->has_photos && buttons;

  gtk_widget_grab_focus (any ? GTK_WIDGET (buttons->data) : self->choose);
}

static void
on_media (SwBringInView *self)
{
  const GPtrArray *list = sw_media_list (self->media);
  gboolean ask = self->ask_at_once && list->len == 0;

  sw_container_empty (self->media_box);
  for (guint i = 0; i < list->len; i++)
    add_medium (self, g_ptr_array_index (list, i));
  gtk_widget_set_visible (self->media_box, list->len > 0);
  self->ask_at_once = FALSE;
  if (!is_choosing (self) || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  focus_first (self);
  if (ask)
    on_choose (self);
}

/* ---- looking ---- */

static void
drop_job (SwBringInView *self)
{
  if (self->job == NULL)
    return;
  g_signal_handlers_disconnect_by_data (self->job, self);
  sw_long_job_cancel (SW_LONG_JOB (self->job));
  g_clear_object (&self->job);
}

static void
on_progress (SwBringInView *self)
{
  g_autofree char *text = sw_long_job_text (SW_LONG_JOB (self->job));
  double fraction = sw_long_job_fraction (SW_LONG_JOB (self->job));

  gtk_label_set_text (GTK_LABEL (self->progress_text), text);
  if (fraction < 0)
    gtk_progress_bar_pulse (GTK_PROGRESS_BAR (self->progress));
  else
    gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress), fraction);
}

static void
fill_rows (SwBringInView *self)
{
  const SwPreview *preview = self->job != NULL ? sw_preview_job_preview (self->job) : NULL;
  g_autofree char *title = NULL;

  if (preview == NULL)
    return;
  title = sw_preview_title (preview);
  gtk_label_set_text (GTK_LABEL (self->found), title);
  sw_preview_rows_fill (self->rows, self->store, preview);
  gtk_button_set_label (GTK_BUTTON (self->copy),
                        preview->to_take > 0 ? _ ("_Bring them in") : _ ("_Compare every byte"));
  gtk_widget_set_sensitive (self->copy, preview->fits);
}

static GtkWidget *
look_focus (SwBringInView *self)
{
  return gtk_widget_get_sensitive (self->copy) ? self->copy : self->cancel;
}

static void
on_done (SwBringInView *self)
{
  const char *problem = sw_long_job_problem (SW_LONG_JOB (self->job));

  /* the person went to another page meanwhile */
  if (!gtk_widget_get_mapped (GTK_WIDGET (self)))
    sw_store_tell (self->store,
                   problem != NULL ? problem : _ ("The folder is looked at: see Photos in."),
                   problem != NULL);
  if (problem != NULL)
    {
      gtk_label_set_text (GTK_LABEL (self->problem), problem);
      show (self, "problem", self->choose_again);
      g_signal_emit_by_name (gtk_widget_get_accessible (self->problem), "announcement", problem);
      return;
    }
  fill_rows (self);
  show (self, "look", look_focus (self));
}

static void
on_store_changed (SwBringInView *self)
{
  gboolean is_step = sw_store_overview (self->store)->set_up->step == SW_SET_UP_PHOTOS;

  gtk_widget_set_visible (self->step, is_step);
  fill_rows (self); /* a trip may have come meanwhile */
}

/* ---- what the person does ---- */

static void
on_copy (SwBringInView *self)
{
  g_auto (GStrv) folders = g_strdupv (self->folders);

  drop_job (self);
  g_signal_emit (self, signals[COPY], 0, folders);
}

static void
on_leave (SwBringInView *self)
{
  drop_job (self);
  g_signal_emit (self, signals[LEAVE], 0);
}

static void
on_choose_again (SwBringInView *self)
{
  sw_bring_in_view_choose (self, FALSE);
}

static gboolean
on_key (GtkWidget *view, GdkEventKey *event, SwBringInView *self)
{
  if (event->keyval != GDK_KEY_Escape)
    return FALSE;
  on_leave (self);
  return TRUE;
}

/* ---- object ---- */

static void
sw_bring_in_view_dispose (GObject *object)
{
  SwBringInView *self = SW_BRING_IN_VIEW (object);

  sw_bring_in_view_set_store (self, NULL);
  g_clear_object (&self->media);
  g_clear_pointer (&self->folders, g_strfreev);
  G_OBJECT_CLASS (sw_bring_in_view_parent_class)->dispose (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwBringInView, name)
#define CALLBACK(name) gtk_widget_class_bind_template_callback (widget, name)

static void
sw_bring_in_view_class_init (SwBringInViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_bring_in_view_dispose;
  signals[COPY] = g_signal_new ("copy", SW_TYPE_BRING_IN_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                NULL, G_TYPE_NONE, 1, G_TYPE_STRV);
  signals[LEAVE] = g_signal_new ("leave", SW_TYPE_BRING_IN_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/bring-in-view.ui");
  BIND (stack);
  BIND (step);
  BIND (media_box);
  BIND (choose);
  BIND (looking_at);
  BIND (progress);
  BIND (progress_text);
  BIND (cancel_look);
  BIND (problem);
  BIND (choose_again);
  BIND (found);
  BIND (found_at);
  BIND (rows);
  BIND (cancel);
  BIND (copy);
  CALLBACK (on_choose);
  CALLBACK (on_choose_again);
  CALLBACK (on_copy);
  CALLBACK (on_leave);
}

static void
sw_bring_in_view_init (SwBringInView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect (self, "key-press-event", G_CALLBACK (on_key), self);
}

void
sw_bring_in_view_set_store (SwBringInView *self, SwStore *store)
{
  drop_job (self);
  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
  g_set_object (&self->store, store);
  if (store != NULL)
    g_signal_connect_object (store, "changed", G_CALLBACK (on_store_changed), self,
                             G_CONNECT_SWAPPED);
}

void
sw_bring_in_view_choose (SwBringInView *self, gboolean ask_at_once)
{
  drop_job (self);
  show (self, "choose", self->choose);
  self->ask_at_once = ask_at_once;
  if (self->media == NULL)
    {
      self->media = sw_media_new ();
      g_signal_connect_object (self->media, "changed", G_CALLBACK (on_media), self,
                               G_CONNECT_SWAPPED);
    }
  else if (sw_media_list (self->media) != NULL)
    on_media (self);
}

void
sw_bring_in_view_look (SwBringInView *self, const char *const *folders)
{
  g_autofree char *joined = g_strjoinv (", ", (char **)folders);
  g_autofree char *shown = sw_text_printable (joined, -1);
  char **copy = g_strdupv ((char **)folders); /* they may be our own */

  drop_job (self);
  g_strfreev (self->folders);
  self->folders = copy;
  gtk_label_set_text (GTK_LABEL (self->looking_at), shown);
  gtk_label_set_text (GTK_LABEL (self->found_at), shown);
  gtk_widget_set_tooltip_text (self->found_at, shown);
  self->job = sw_preview_job_new (self->store, (const char *const *)self->folders);
  g_signal_connect_object (self->job, "progress", G_CALLBACK (on_progress), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->job, "done", G_CALLBACK (on_done), self, G_CONNECT_SWAPPED);
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress), 0);
  on_progress (self);
  show (self, "looking", self->cancel_look);
}

gboolean
sw_bring_in_view_has_look (SwBringInView *self)
{
  return self->job != NULL;
}

void
sw_bring_in_view_take_up (SwBringInView *self)
{
  if (sw_long_job_problem (SW_LONG_JOB (self->job)) != NULL)
    gtk_widget_grab_focus (self->choose_again);
  else if (sw_preview_job_preview (self->job) != NULL)
    gtk_widget_grab_focus (look_focus (self));
  else
    gtk_widget_grab_focus (self->cancel_look);
}

gboolean
sw_bring_in_view_is_busy (SwBringInView *self)
{
  return (self->job != NULL && sw_preview_job_preview (self->job) == NULL
          && sw_long_job_problem (SW_LONG_JOB (self->job)) == NULL)
         || (self->media != NULL && sw_media_list (self->media) == NULL);
}
