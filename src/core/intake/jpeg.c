/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/intake/jpeg.h"

#include <turbojpeg.h>

GBytes *
sw_jpeg_encode (const SwPixels *pixels, int quality)
{
  tjhandle tj = tjInitCompress ();
  unsigned char *jpeg = NULL;
  unsigned long size = 0;
  GBytes *bytes = NULL;

  if (tj != NULL
      && tjCompress2 (tj, pixels->rgb, (int)pixels->width, 0, (int)pixels->height, TJPF_RGB, &jpeg,
                      &size, TJSAMP_420, quality, 0)
             == 0)
    bytes = g_bytes_new (jpeg, size);
  tjFree (jpeg);
  if (tj != NULL)
    tjDestroy (tj);
  return bytes;
}
