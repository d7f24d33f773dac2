/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The schema as numbered steps in one table (schema.c). Private to core/catalogue.
 * A step is never changed once released; a new one is a new row at the end. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Bytes 'Shwk' at offset 68 of catalogue.db. */
#define SW_APPLICATION_ID 0x5368776B

typedef struct
{
  int version;
  const char *sql;
  const char *why;
} SwSchemaStep;

/* All of them, oldest first. Static. */
const SwSchemaStep *sw_schema_steps (gsize *out_n);
/* The version that the last step leads to. */
int sw_schema_latest (void);

G_END_DECLS
