/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Memory cards, sticks and phones that are plugged in and show up as a mount. */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

typedef struct
{
  char *name, *path;
  GIcon *icon;
  gboolean
      has_photos; /* a folder DCIM: where cameras put their photos (CIPA DC-009, DCF 2.0, 2010) */
} SwMedium;

#define SW_TYPE_MEDIA (sw_media_get_type ())
G_DECLARE_FINAL_TYPE (SwMedia, sw_media, SW, MEDIA, GObject)

/* Signal "changed" (): the list is a new one. Looks at once, and again whenever something is
 * plugged in or out; folders are looked into on another thread. Transfer full. */
SwMedia *sw_media_new (void);
/* Of SwMedium, those with photos first; NULL until the first look is over. Transfer none, valid
 * until the next "changed". */
const GPtrArray *sw_media_list (SwMedia *self);

G_END_DECLS
