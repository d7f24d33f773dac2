/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lists zones and guesses this machine's. What a name means is civil.h's. */
#include "core/base/zone-list.h"

#include <stdlib.h>
#include <string.h>

#include "core/base/civil.h"

#define ZONE_FOLDER "zoneinfo/"
#define TABLE_NAME "zone.tab"

static int
by_bytes (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *)a, *(char *const *)b);
}

/* Lines of zone.tab (tz database, theory.html: country, coordinates, name, remark, parted by tabs).
 */
char **
sw_zone_names (void)
{
  const char *folder = g_getenv ("TZDIR");
  g_autofree char *path
      = g_build_filename (folder != NULL ? folder : "/usr/share/zoneinfo", TABLE_NAME, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;

  if (g_file_get_contents (path, &text, NULL, NULL) && g_utf8_validate (text, -1, NULL))
    lines = g_strsplit (text, "\n", -1);
  for (int i = 0; lines != NULL && lines[i] != NULL; i++)
    {
      g_auto (GStrv) cells = g_strsplit (lines[i], "\t", 4);

      if (lines[i][0] != '#' && g_strv_length (cells) >= 3 && *cells[2] != '\0')
        g_ptr_array_add (names, g_strdup (cells[2]));
    }
  g_ptr_array_sort (names, by_bytes);
  g_ptr_array_set_free_func (names, NULL);
  g_ptr_array_add (names, NULL);
  return (char **)g_ptr_array_free (g_steal_pointer (&names), FALSE);
}

/* The name if it is that of a zone. Transfer full. */
static char *
good_name (const char *name)
{
  g_autoptr (SwZone) zone = name != NULL && *name != '\0' ? sw_zone_new (name, NULL) : NULL;

  return zone != NULL ? g_strdup (name) : NULL;
}

static char *
from_tz (const char *tz)
{
  const char *inner;

  if (tz == NULL)
    return NULL;
  tz += *tz == ':'; /* POSIX.1-2017, 8.3: a colon says that what follows is the system's own way */
  inner = strstr (tz, ZONE_FOLDER);
  return good_name (inner != NULL ? inner + strlen (ZONE_FOLDER) : tz);
}

static char *
from_link (const char *path)
{
  g_autofree char *at = path != NULL ? realpath (path, NULL) : NULL;
  g_autofree char *target = path != NULL ? g_file_read_link (path, NULL) : NULL;
  const char *names[] = { target, at };

  /* the link as written first: it may name a zone by an older name that its owner prefers */
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      const char *inner = names[i] != NULL ? strstr (names[i], ZONE_FOLDER) : NULL;
      char *name = inner != NULL ? good_name (inner + strlen (ZONE_FOLDER)) : NULL;

      if (name != NULL)
        return name;
    }
  return NULL;
}

static char *
from_text (const char *path)
{
  g_autofree char *text = NULL;

  if (path == NULL || !g_file_get_contents (path, &text, NULL, NULL))
    return NULL;
  return good_name (g_strstrip (text));
}

char *
sw_zone_guess_from (const char *tz, const char *localtime_path, const char *timezone_path)
{
  char *name = from_tz (tz);

  if (name == NULL)
    name = from_link (localtime_path);
  return name != NULL ? name : from_text (timezone_path);
}

char *
sw_zone_guess (void)
{
  return sw_zone_guess_from (g_getenv ("TZ"), "/etc/localtime", "/etc/timezone");
}
