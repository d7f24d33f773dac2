/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one error domain of Shedwalk. Base layer: includes nothing of the project.
 * A message is one sentence for a person: what happened, to what, what to do. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define SW_ERROR (sw_error_quark ())

typedef enum
{
  SW_ERROR_REFUSED,      /* a rule of the trade or of the catalogue says no */
  SW_ERROR_NOT_FOUND,    /* a file, folder, trip, place, item that is not there */
  SW_ERROR_BAD_INPUT,    /* text, table or picture that cannot be understood */
  SW_ERROR_BUSY,         /* another program is writing, or changed it meanwhile */
  SW_ERROR_READ_ONLY,    /* the medium or the folder does not take changes */
  SW_ERROR_NO_SPACE,     /* the disk is full */
  SW_ERROR_NEWER_SCHEMA, /* made by a later Shedwalk */
  SW_ERROR_DAMAGED,      /* what is stored is not what was stored */
  SW_ERROR_CANCELLED,    /* the person stopped it; what was done is kept */
  SW_ERROR_FAILED,       /* everything else; the sentence says what */
} SwError;

GQuark sw_error_quark (void);

/* Sets *error from an errno: ENOSPC, EDQUOT, EROFS, EACCES, EPERM, ENOENT always read the same.
 * 'what' begins the sentence ("The folder /x could not be read"). Always returns FALSE. */
gboolean sw_error_from_errno (GError **error, int errsv, const char *what);

G_END_DECLS
