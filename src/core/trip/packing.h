/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What has to be in the van before one leaves: the tools and the material of all jobs of a trip,
 * each once, with the lines it is for. Trip layer; knows no catalogue. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  char *name;    /* as the first job that needs it has it */
  GArray *lines; /* int: the numbers of the sheet's lines, ascending, each once */
} SwPackingThing;

typedef struct
{
  GPtrArray *things; /* SwPackingThing, in the order they are first needed */
  gint64 hands;      /* the most people that one job needs; 0: no job */
} SwPacking;
/* Without things. Transfer full. */
SwPacking *sw_packing_new (void);
void sw_packing_free (SwPacking *packing);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwPacking, sw_packing_free)

/* Adds what the job of that line needs. tools: as the person wrote them, with commas, semicolons,
 * plus signs or line ends between (NULL: none); the same but for case and blanks is one thing. */
void sw_packing_add_job (SwPacking *packing, int line, const char *tools, gint64 hands);

/* "for lines 3, 7". Transfer full. */
char *sw_packing_thing_words (const SwPackingThing *thing);

G_END_DECLS
