/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The start view. Makes a new catalogue on a thread; opening is the window's business. */
#include "app/start-page.h"

#include <locale.h>

#include "app/text.h"
#include "app/widgets.h"
#include "core/base/money.h"
#include "core/base/text.h"
#include "core/catalogue/catalogue.h"

#define MAX_RECENT 6

struct _SwStartPage
{
  GtkBox parent;
  GtkWidget *stack, *problem, *recent_box, *recent;
  GtkWidget *name, *currency, *zone, *folder, *create, *new_problem, *where;
};

enum
{
  OPEN,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwStartPage, sw_start_page, GTK_TYPE_BOX)

/* ---- recent ---- */

static void
on_recent_activated (GtkListBox *list, GtkListBoxRow *row, SwStartPage *self)
{
  const char *folder = g_object_get_data (G_OBJECT (row), "sw-folder");

  g_signal_emit (self, signals[OPEN], 0, folder);
}

static void
add_recent (SwStartPage *self, const char *folder)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
  g_autofree char *base = g_path_get_basename (folder);
  g_autofree char *parent = g_path_get_dirname (folder);
  g_autofree char *sentence = NULL;
  GtkWidget *name, *where = gtk_label_new (parent);

  if (g_str_has_suffix (base, ".shedwalk"))
    base[strlen (base) - strlen (".shedwalk")] = '\0';
  name = gtk_label_new (base);
  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_label_set_xalign (GTK_LABEL (where), 0);
  gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_END);
  gtk_label_set_ellipsize (GTK_LABEL (where), PANGO_ELLIPSIZE_START);
  gtk_style_context_add_class (gtk_widget_get_style_context (where), GTK_STYLE_CLASS_DIM_LABEL);
  gtk_container_set_border_width (GTK_CONTAINER (box), 8);
  gtk_container_add (GTK_CONTAINER (box), name);
  gtk_container_add (GTK_CONTAINER (box), where);
  gtk_container_add (GTK_CONTAINER (row), box);
  sentence = g_strdup_printf (_ ("%s in %s"), base, parent);
  atk_object_set_name (gtk_widget_get_accessible (row), sentence);
  g_object_set_data_full (G_OBJECT (row), "sw-folder", g_strdup (folder), g_free);
  gtk_widget_show_all (row);
  gtk_container_add (GTK_CONTAINER (self->recent), row);
}

void
sw_start_page_refresh (SwStartPage *self)
{
  GList *infos = gtk_recent_manager_get_items (gtk_recent_manager_get_default ());
  int n = 0;

  sw_container_empty (self->recent);
  for (GList *l = infos; l != NULL && n < MAX_RECENT; l = l->next)
    {
      g_autofree char *path = g_filename_from_uri (gtk_recent_info_get_uri (l->data), NULL, NULL);
      if (path == NULL || !gtk_recent_info_has_group (l->data, "Shedwalk")
          || !gtk_recent_info_exists (l->data))
        continue;
      add_recent (self, path);
      n++;
    }
  gtk_widget_set_visible (self->recent_box, n > 0);
  g_list_free_full (infos, (GDestroyNotify)gtk_recent_info_unref);
}

/* ---- a new one ---- */

/* Where the new one will lie, said before it is made. Transfer full; NULL while something is
 * missing. */
static char *
new_folder (SwStartPage *self)
{
  g_autofree char *parent = gtk_file_chooser_get_filename (GTK_FILE_CHOOSER (self->folder));
  g_autofree char *name = sw_text_tidy (gtk_entry_get_text (GTK_ENTRY (self->name)));
  g_autofree char *stem = NULL, *base = NULL;

  if (parent == NULL || *name == '\0')
    return NULL;
  stem = sw_text_safe_stem (name);
  base = g_strconcat (stem, ".shedwalk", NULL);
  return g_build_filename (parent, base, NULL);
}

static void
on_new_changed (SwStartPage *self)
{
  g_autofree char *folder = new_folder (self);

  gtk_label_set_text (GTK_LABEL (self->where), folder != NULL ? folder : "");
  gtk_widget_set_sensitive (self->create, folder != NULL);
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
create_thread (GTask *task, gpointer object, gpointer data, GCancellable *cancellable)
{
  const New *new = data;
  GError *error = NULL;
  SwCatalogue *catalogue
      = sw_catalogue_create (new->folder, new->name, new->currency, new->zone, &error);

  if (catalogue == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  sw_catalogue_close (catalogue);
  g_task_return_pointer (task, g_strdup (new->folder), g_free);
}

static void
on_created (GObject *object, GAsyncResult *result, gpointer data)
{
  SwStartPage *self = SW_START_PAGE (object);
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_task_propagate_pointer (G_TASK (result), &error);

  gtk_widget_set_sensitive (self->create, TRUE);
  if (folder != NULL)
    {
      g_signal_emit (self, signals[OPEN], 0, folder);
      return;
    }
  gtk_label_set_text (GTK_LABEL (self->new_problem), error->message);
  gtk_widget_show (self->new_problem);
}

static void
on_create (SwStartPage *self)
{
  g_autoptr (GTask) task = NULL;
  New *new;

  if (!gtk_widget_get_sensitive (self->create))
    return;
  new = g_new0 (New, 1);
  new->folder = new_folder (self);
  new->name = sw_text_tidy (gtk_entry_get_text (GTK_ENTRY (self->name)));
  new->currency = sw_text_tidy (gtk_entry_get_text (GTK_ENTRY (self->currency)));
  new->zone = sw_text_tidy (gtk_entry_get_text (GTK_ENTRY (self->zone)));
  gtk_widget_hide (self->new_problem);
  gtk_widget_set_sensitive (self->create, FALSE);
  task = g_task_new (self, NULL, on_created, NULL);
  g_task_set_task_data (task, new, new_free);
  g_task_run_in_thread (task, create_thread);
}

static void
guess (SwStartPage *self)
{
  g_autoptr (GTimeZone) zone = g_time_zone_new_local ();
  const char *id = g_time_zone_get_identifier (zone);
  const struct lconv *money = localeconv ();
  g_autofree char *code = g_strndup (money->int_curr_symbol, 3);
  const char *documents = g_get_user_special_dir (G_USER_DIRECTORY_DOCUMENTS);

  if (id != NULL && strchr (id, '/') != NULL && *id != '/')
    gtk_entry_set_text (GTK_ENTRY (self->zone), id);
  if (*code != '\0')
    gtk_entry_set_text (GTK_ENTRY (self->currency), code);
  gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (self->folder),
                                       documents != NULL ? documents : g_get_home_dir ());
}

void
sw_start_page_begin_new (SwStartPage *self)
{
  gtk_widget_hide (self->new_problem);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "new");
  gtk_widget_grab_focus (self->name);
}

static void
on_cancel (SwStartPage *self)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "start");
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwStartPage, name)

static void
sw_start_page_class_init (SwStartPageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  signals[OPEN] = g_signal_new ("open", SW_TYPE_START_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/start-page.ui");
  BIND (stack);
  BIND (problem);
  BIND (recent_box);
  BIND (recent);
  BIND (name);
  BIND (currency);
  BIND (zone);
  BIND (folder);
  BIND (create);
  BIND (new_problem);
  BIND (where);
  gtk_widget_class_bind_template_callback (widget, on_recent_activated);
  gtk_widget_class_bind_template_callback (widget, on_new_changed);
  gtk_widget_class_bind_template_callback (widget, on_create);
  gtk_widget_class_bind_template_callback (widget, on_cancel);
}

static void
sw_start_page_init (SwStartPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  guess (self);
  on_new_changed (self);
  sw_start_page_refresh (self);
}

GtkWidget *
sw_start_page_new (void)
{
  return g_object_new (SW_TYPE_START_PAGE, NULL);
}

void
sw_start_page_set_problem (SwStartPage *self, const char *sentence)
{
  gtk_label_set_text (GTK_LABEL (self->problem), sentence != NULL ? sentence : "");
  gtk_widget_set_visible (self->problem, sentence != NULL);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "start");
}
