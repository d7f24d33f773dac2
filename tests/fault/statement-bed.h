/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small catalogue with something of everything in it, and the calls that are made on it while
 * statements fail. Belongs to the tests alone. */
#pragma once

#include "core/catalogue/catalogue.h"

/* A call of core. FALSE with an error where it is refused. */
typedef gboolean (*StatementCall) (SwCatalogue *catalogue, GError **error);

typedef struct
{
  const char *name;
  StatementCall call; /* or NULL: the name is a command's words, CAT in them the catalogue */
  const char *makes;  /* a file or folder that the command writes; NULL: none */
  gboolean in_parts;  /* more than one act: what is done stays done */
} StatementJob;

/* Each ends with a row without a name. */
extern const StatementJob statement_commands[];
extern const StatementJob statement_calls[];

/* Words as a shell would part them, with CAT replaced; transfer full. */
char **statement_words (const char *line);
#define STATEMENT_CATALOGUE "Cider works.shedwalk"

typedef struct
{
  char *folder, *outside;
} StatementBed;

/* Makes the catalogue in a folder of its own, which is the current one from then on, and holds it
 * open (in-turn.h). */
void statement_bed_open (StatementBed *bed);
/* Goes back to the folder before, and removes all that was made. */
void statement_bed_close (StatementBed *bed);
