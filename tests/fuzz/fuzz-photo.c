/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as a photo: read to the end, and what comes out is within its own bounds. */
#include "target.h"

#include "core/intake/metadata.h"

#include <stdlib.h>

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  const SwInstant now = { G_GINT64_CONSTANT (1795608000000000) };
  g_auto (SwPhotoMeta) meta = { 0 };
  /* the head as a bring-in has it: a first buffer, and no way to the rest */
  SwPeek peek = { data, size, -1, size };

  sw_photo_meta_read (&peek, sw_sniff (data, MIN (size, SW_SNIFF_BYTES), "a.jpg"), now, &meta);
  if (meta.orientation < 1 || meta.orientation > 8
      || (meta.has_clock && !sw_civil_valid (meta.clock))
      || (meta.has_position
          && !(meta.latitude >= -90 && meta.latitude <= 90 && meta.longitude >= -180
               && meta.longitude <= 180))
      || (meta.make != NULL && !g_utf8_validate (meta.make, -1, NULL)))
    abort ();
  return 0;
}
