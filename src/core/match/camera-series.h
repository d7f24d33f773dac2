/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether photos that name one camera are of two: of one model, neither of which writes a serial
 * number. Match layer, pure. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  gint64 bring_in;
  const char *file; /* path below the folder given */
  gint64 clock_us;  /* what the camera wrote */
} SwSeriesPhoto;

/* A camera counts its files up: photos of one, in time order, bear rising numbers, whatever folders
 * they lie in. Where two folders each rise and their numbers jump back and forth between them, they
 * are of two cameras. Returns the index of the second camera's first photo, -1 where all may be of
 * one. Names without a number tell nothing. */
int sw_camera_series_second (const SwSeriesPhoto *photos, gsize n);

G_END_DECLS
