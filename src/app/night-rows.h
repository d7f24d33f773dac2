/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The offers of a closing night as rows of a list. Text only; no widget. */
#pragma once

#include "app/night.h"
#include "app/rows.h"
#include "app/store.h"

G_BEGIN_DECLS

/* Faces are made anew each time they are drawn, by the night as it stands then; the night must
 * outlive the rows. Transfer full. */
SwRows *sw_night_rows_new (SwStore *store, const SwNight *night);

G_END_DECLS
