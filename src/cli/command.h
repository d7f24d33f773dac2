/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a command of the command line is: one row of a table, with its options and its help.
 * The commands only read arguments, call core and print; they decide nothing. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* Exit codes of the contract. */
#define SW_EXIT_STANDS 0    /* what was asked for now stands, by this run or an earlier one */
#define SW_EXIT_REFUSED 1   /* refused, not found, faults found, stopped part-way */
#define SW_EXIT_MALFORMED 2 /* the command line itself is wrong */

/* One call: what stood on the command line behind the command's words and options. */
typedef struct
{
  char **operands; /* NULL-terminated */
  int n_operands;
  gboolean json; /* one JSON document to stdout and nothing else */
} SwCall;

/* Returns an exit code; prints its own result, and leaves printing of *error to the caller. An
 * error of the domain SW_USAGE_ERROR means SW_EXIT_MALFORMED, any other SW_EXIT_REFUSED. */
typedef int (*SwCommandFunc) (SwCall *call, GError **error);

typedef struct
{
  const char *words;    /* "trip add" */
  const char *operands; /* as shown in the help: "CAT" */
  int least, most;      /* number of operands; most -1: any number */
  const char *summary;  /* one line */
  const char *help;     /* more, or NULL */
  SwCommandFunc run;
  const GOptionEntry
      *options; /* or NULL; strings are G_OPTION_ARG_FILENAME: bytes as typed, checked by core */
  const char *(*help_from_core) (void); /* or NULL: where core owns the help's text */
} SwCommand;

#define SW_USAGE_ERROR (sw_usage_error_quark ())
GQuark sw_usage_error_quark (void);
/* Sets a usage error; returns SW_EXIT_MALFORMED. */
int sw_usage (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* The tables, one a file; each ends with a row whose words are NULL. */
extern const SwCommand sw_catalogue_commands[];
extern const SwCommand sw_property_commands[];
extern const SwCommand sw_photo_commands[];
extern const SwCommand sw_pair_commands[];
extern const SwCommand sw_item_commands[];
extern const SwCommand sw_said_commands[];
extern const SwCommand sw_money_commands[];
extern const SwCommand sw_trade_commands[];
extern const SwCommand sw_scrap_commands[];
extern const SwCommand sw_trip_commands[];
extern const SwCommand sw_tick_commands[];
extern const SwCommand sw_handout_commands[];
extern const SwCommand sw_answers_commands[];
extern const SwCommand sw_going_out_commands[];

/* All of them, table by table; NULL past the last. */
const SwCommand *sw_command_at (guint i);

/* Opens operand 0 for writing or reading. Transfer full. */
SwCatalogue *sw_call_open (SwCall *call, SwOpenMode mode, GError **error);
/* A whole number of an argument, refused as a usage error when it is none or below 'least'. 'what'
 * begins the sentence. */
gboolean sw_call_number (const char *text, const char *what, gint64 least, gint64 *out,
                         GError **error);
/* A day of an option; NULL is today in the catalogue's zone. */
gboolean sw_call_day (SwCatalogue *catalogue, const char *text, SwDay *out_day, GError **error);

/* The trip that an argument numbers; NULL: the one at hand (trips.h). NOT_FOUND where none lies
 * ahead. */
gboolean sw_call_trip (SwCatalogue *catalogue, const char *text, gint64 *out_trip, GError **error);

G_END_DECLS
