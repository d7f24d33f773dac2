/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Follows the system's list of mounts. Looks no deeper than two folders, and never on the main
 * thread: a phone may take seconds to answer. */
#include "app/media.h"

#define DCIM "DCIM"

struct _SwMedia
{
  GObject parent;
  GVolumeMonitor *monitor;
  GCancellable *cancellable; /* of the look that runs */
  GPtrArray *list;
};

enum
{
  CHANGED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwMedia, sw_media, G_TYPE_OBJECT)

static void
medium_free (gpointer data)
{
  SwMedium *medium = data;

  g_free (medium->name);
  g_free (medium->path);
  g_clear_object (&medium->icon);
  g_free (medium);
}

static void
sw_media_dispose (GObject *object)
{
  SwMedia *self = SW_MEDIA (object);

  if (self->monitor != NULL)
    g_signal_handlers_disconnect_by_data (self->monitor, self);
  g_clear_object (&self->monitor);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->list, g_ptr_array_unref);
  G_OBJECT_CLASS (sw_media_parent_class)->dispose (object);
}

static void
sw_media_class_init (SwMediaClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_media_dispose;
  signals[CHANGED] = g_signal_new ("changed", SW_TYPE_MEDIA, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 0);
}

/* ---- which hold photos ---- */

/* At the top, or in a folder of the top: phones have one for each of their stores. */
static gboolean
holds_photos (const char *path)
{
  g_autofree char *top = g_build_filename (path, DCIM, NULL);
  g_autoptr (GDir) dir = NULL;
  const char *name;

  if (g_file_test (top, G_FILE_TEST_IS_DIR))
    return TRUE;
  dir = g_dir_open (path, 0, NULL);
  for (int i = 0; dir != NULL && i < 100 && (name = g_dir_read_name (dir)) != NULL; i++)
    {
      g_autofree char *inner = g_build_filename (path, name, DCIM, NULL);
      if (g_file_test (inner, G_FILE_TEST_IS_DIR))
        return TRUE;
    }
  return FALSE;
}

static int
photos_first (gconstpointer a, gconstpointer b)
{
  const SwMedium *x = *(SwMedium *const *)a, *y = *(SwMedium *const *)b;

  if (x->has_photos != y->has_photos)
    return x->has_photos ? -1 : 1;
  return g_utf8_collate (x->name, y->name);
}

static void
look_thread (GTask *task, gpointer object, gpointer data, GCancellable *cancellable)
{
  GPtrArray *list = data;

  for (guint i = 0; i < list->len && !g_cancellable_is_cancelled (cancellable); i++)
    {
      SwMedium *medium = g_ptr_array_index (list, i);
      medium->has_photos = holds_photos (medium->path);
    }
  g_ptr_array_sort (list, photos_first);
  g_task_return_pointer (task, g_ptr_array_ref (list), (GDestroyNotify)g_ptr_array_unref);
}

static void
on_looked (GObject *object, GAsyncResult *result, gpointer data)
{
  SwMedia *self = SW_MEDIA (object);
  GPtrArray *list = g_task_propagate_pointer (G_TASK (result), NULL);

  if (list == NULL)
    return; /* a later look is on its way */
  g_clear_pointer (&self->list, g_ptr_array_unref);
  self->list = list;
  g_signal_emit (self, signals[CHANGED], 0);
}

/* ---- what is plugged in ---- */

static GPtrArray *
list_mounts (SwMedia *self)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (medium_free);
  GList *mounts = g_volume_monitor_get_mounts (self->monitor);

  for (GList *l = mounts; l != NULL; l = l->next)
    {
      GMount *mount = l->data;
      g_autoptr (GFile) root = g_mount_get_root (mount);
      g_autofree char *path = g_file_get_path (root);
      SwMedium *medium;
      if (path == NULL || g_mount_is_shadowed (mount))
        continue;
      medium = g_new0 (SwMedium, 1);
      medium->name = g_mount_get_name (mount);
      medium->path = g_steal_pointer (&path);
      medium->icon = g_mount_get_symbolic_icon (mount);
      g_ptr_array_add (list, medium);
    }
  g_list_free_full (mounts, g_object_unref);
  return list;
}

static void
look (SwMedia *self)
{
  g_autoptr (GTask) task = NULL;

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  task = g_task_new (self, self->cancellable, on_looked, NULL);
  g_task_set_task_data (task, list_mounts (self), (GDestroyNotify)g_ptr_array_unref);
  g_task_run_in_thread (task, look_thread);
}

static void
sw_media_init (SwMedia *self)
{
  static const char *const changes[] = { "mount-added", "mount-removed", "mount-changed" };

  self->monitor = g_volume_monitor_get ();
  for (gsize i = 0; i < G_N_ELEMENTS (changes); i++)
    g_signal_connect_object (self->monitor, changes[i], G_CALLBACK (look), self, G_CONNECT_SWAPPED);
  look (self);
}

SwMedia *
sw_media_new (void)
{
  return g_object_new (SW_TYPE_MEDIA, NULL);
}

const GPtrArray *
sw_media_list (SwMedia *self)
{
  return self->list;
}
