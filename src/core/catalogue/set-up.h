/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far the set-up of a new catalogue has come, and what was typed and not entered yet, so that
 * it can be left at any moment and taken up again. Catalogue layer. Kept as settings: no act, no
 * undo.
 */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef enum
{
  SW_SET_UP_PLACES,
  SW_SET_UP_TRIP,
  SW_SET_UP_PHOTOS,
  SW_SET_UP_DONE, /* also for a catalogue that never had a set-up */
} SwSetUpStep;

typedef struct
{
  SwSetUpStep step;
  char *places;               /* an indented list; never NULL */
  char *title, *first, *last; /* of the trip, as typed; never NULL */
} SwSetUp;
void sw_set_up_free (SwSetUp *set_up);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwSetUp, sw_set_up_free)

/* Transfer full. Errors: those of the database. */
SwSetUp *sw_set_up_get (SwCatalogue *catalogue, GError **error);
/* NULL texts count as empty. */
gboolean sw_set_up_put (SwCatalogue *catalogue, const SwSetUp *set_up, GError **error);

G_END_DECLS
