/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hand-outs that stand in files of their own: rows of the table in command-handout.c. */
#pragma once

#include "cli/command.h"

G_BEGIN_DECLS

/* What was said on the command line; bytes as typed, NULL or FALSE where nothing was. */
typedef struct
{
  char *to, *trip, *person, *place;
  gboolean prices, buyers;
  char *offer, *item, *tags, *labels;
  gboolean looked;
} SwHandoutOptions;

extern SwHandoutOptions sw_handout_options;

/* Each is a row of the table of hand-outs. */
int sw_handout_archive (SwCall *call, GError **error);
int sw_handout_family (SwCall *call, GError **error);
int sw_handout_tables (SwCall *call, GError **error);
int sw_handout_inventory (SwCall *call, GError **error);
int sw_handout_receipt (SwCall *call, GError **error);
int sw_handout_standing (SwCall *call, GError **error);
int sw_handout_pack (SwCall *call, GError **error);

G_END_DECLS
