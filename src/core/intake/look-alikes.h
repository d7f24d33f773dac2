/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finds photos of the same moment that look the same. Intake layer; rows in, pairs out. */
#pragma once

#include "core/catalogue/photos.h"
#include "core/intake/decoder.h"

G_BEGIN_DECLS

typedef struct
{
  const char *folder; /* where a photo's 'stored' is found; an absolute one stands for itself */
  SwDecoder *decoder; /* not owned */
  GCancellable *cancellable; /* may be NULL */
  gint64 bring_in;           /* at least one of a pair is of this one */
  guint most;                /* pictures decoded at most; 0: as many as it takes */
  void (*found) (const SwPhoto *a, const SwPhoto *b, gpointer data);
  gpointer data;
} SwLookAlikeSearch;

/* 'photos' holds SwPhoto in any order; those with a likeness are not decoded again. Blocks. FALSE
 * where it ended early: cancelled, or more pictures to decode than 'most'. */
gboolean sw_look_alikes_find (const GPtrArray *photos, const SwLookAlikeSearch *search);

G_END_DECLS
