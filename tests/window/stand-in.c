/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A volume monitor for tests, loaded by GIO from GIO_EXTRA_MODULES: each folder inside
 * $SHEDWALK_STAND_IN is a medium that is plugged in, as a stick or a phone would be. Making a
 * folder plugs it in, taking it away pulls it out. */
#include <gio/gio.h>

void g_io_module_load (GIOModule *module);
void g_io_module_unload (GIOModule *module);
char **g_io_module_query (void);
GType stand_in_mount_get_type (void);
GType stand_in_monitor_get_type (void);

/* ---- a medium ---- */

typedef struct
{
  GObject parent;
  GFile *root;
} StandInMount;
typedef GObjectClass StandInMountClass;

static void mount_iface (GMountIface *iface);

G_DEFINE_DYNAMIC_TYPE_EXTENDED (StandInMount, stand_in_mount, G_TYPE_OBJECT, 0,
                                G_IMPLEMENT_INTERFACE_DYNAMIC (G_TYPE_MOUNT, mount_iface))

static GFile *
get_root (GMount *mount)
{
  return g_object_ref (((StandInMount *)mount)->root);
}

static char *
get_name (GMount *mount)
{
  return g_file_get_basename (((StandInMount *)mount)->root);
}

static GIcon *
get_icon (GMount *mount)
{
  return g_themed_icon_new ("drive-removable-media");
}

static gboolean
is_false (GMount *mount)
{
  return FALSE;
}

static char *
no_uuid (GMount *mount)
{
  return NULL;
}

static GVolume *
of_no_volume (GMount *mount)
{
  return NULL;
}

static GDrive *
of_no_drive (GMount *mount)
{
  return NULL;
}

static void
mount_iface (GMountIface *iface)
{
  iface->get_uuid = no_uuid;
  iface->get_volume = of_no_volume;
  iface->get_drive = of_no_drive;
  iface->get_root = get_root;
  iface->get_name = get_name;
  iface->get_icon = get_icon;
  iface->get_symbolic_icon = get_icon;
  iface->can_unmount = is_false;
  iface->can_eject = is_false;
}

static void
stand_in_mount_finalize (GObject *object)
{
  g_object_unref (((StandInMount *)object)->root);
  G_OBJECT_CLASS (stand_in_mount_parent_class)->finalize (object);
}

static void
stand_in_mount_class_init (StandInMountClass *klass)
{
  klass->finalize = stand_in_mount_finalize;
}

static void
stand_in_mount_class_finalize (StandInMountClass *klass)
{
}

static void
stand_in_mount_init (StandInMount *self)
{
}

/* ---- what is plugged in ---- */

typedef struct
{
  GVolumeMonitor parent;
  GFileMonitor *watch;
  GList *mounts; /* StandInMount */
} StandInMonitor;
typedef GVolumeMonitorClass StandInMonitorClass;

G_DEFINE_DYNAMIC_TYPE (StandInMonitor, stand_in_monitor, G_TYPE_VOLUME_MONITOR)

static void
plug_in (StandInMonitor *self, GFile *root)
{
  StandInMount *mount = g_object_new (stand_in_mount_get_type (), NULL);

  mount->root = g_object_ref (root);
  self->mounts = g_list_append (self->mounts, mount);
  g_signal_emit_by_name (self, "mount-added", mount);
}

static void
pull_out (StandInMonitor *self, GFile *root)
{
  for (GList *l = self->mounts; l != NULL; l = l->next)
    if (g_file_equal (((StandInMount *)l->data)->root, root))
      {
        g_autoptr (GObject) mount = l->data;
        self->mounts = g_list_delete_link (self->mounts, l);
        g_signal_emit_by_name (self, "mount-removed", mount);
        return;
      }
}

static void
on_watched (GFileMonitor *watch, GFile *file, GFile *other, GFileMonitorEvent event,
            StandInMonitor *self)
{
  if (event == G_FILE_MONITOR_EVENT_CREATED || event == G_FILE_MONITOR_EVENT_MOVED_IN)
    plug_in (self, file);
  else if (event == G_FILE_MONITOR_EVENT_DELETED || event == G_FILE_MONITOR_EVENT_MOVED_OUT)
    pull_out (self, file);
}

static gboolean
is_supported (void)
{
  return g_getenv ("SHEDWALK_STAND_IN") != NULL;
}

static GList *
get_mounts (GVolumeMonitor *monitor)
{
  return g_list_copy_deep (((StandInMonitor *)monitor)->mounts, (GCopyFunc)(void *)g_object_ref,
                           NULL);
}

static GList *
get_none (GVolumeMonitor *monitor)
{
  return NULL;
}

static GVolume *
no_volume (GVolumeMonitor *monitor, const char *uuid)
{
  return NULL;
}

static GMount *
no_mount (GVolumeMonitor *monitor, const char *uuid)
{
  return NULL;
}

static void
stand_in_monitor_finalize (GObject *object)
{
  StandInMonitor *self = (StandInMonitor *)object;

  g_clear_object (&self->watch);
  g_list_free_full (self->mounts, g_object_unref);
  G_OBJECT_CLASS (stand_in_monitor_parent_class)->finalize (object);
}

static void
stand_in_monitor_class_init (StandInMonitorClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = stand_in_monitor_finalize;
  klass->is_supported = is_supported;
  klass->get_mounts = get_mounts;
  klass->get_volumes = get_none;
  klass->get_connected_drives = get_none;
  klass->get_volume_for_uuid = no_volume;
  klass->get_mount_for_uuid = no_mount;
}

static void
stand_in_monitor_class_finalize (StandInMonitorClass *klass)
{
}

static void
stand_in_monitor_init (StandInMonitor *self)
{
  g_autoptr (GFile) folder = g_file_new_for_path (g_getenv ("SHEDWALK_STAND_IN"));
  g_autoptr (GFileEnumerator) inside = g_file_enumerate_children (
      folder, G_FILE_ATTRIBUTE_STANDARD_NAME, G_FILE_QUERY_INFO_NONE, NULL, NULL);
  GFile *file = NULL;

  self->watch = g_file_monitor_directory (folder, G_FILE_MONITOR_WATCH_MOVES, NULL, NULL);
  g_signal_connect (self->watch, "changed", G_CALLBACK (on_watched), self);
  while (inside != NULL && g_file_enumerator_iterate (inside, NULL, &file, NULL, NULL)
         && file != NULL)
    plug_in (self, file);
}

/* ---- module ---- */

void
g_io_module_load (GIOModule *module)
{
  g_type_module_use (G_TYPE_MODULE (module));
  stand_in_mount_register_type (G_TYPE_MODULE (module));
  stand_in_monitor_register_type (G_TYPE_MODULE (module));
  g_io_extension_point_implement (G_VOLUME_MONITOR_EXTENSION_POINT_NAME,
                                  stand_in_monitor_get_type (), "stand-in", 0);
}

void
g_io_module_unload (GIOModule *module)
{
}

char **
g_io_module_query (void)
{
  static const char *const points[] = { G_VOLUME_MONITOR_EXTENSION_POINT_NAME, NULL };

  return g_strdupv ((char **)points);
}
