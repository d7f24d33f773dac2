/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command line told to others from the tables of the commands: a manual page and what shells
 * complete. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Each the whole text of a file; transfer full. */
char *sw_describe_man (void);  /* shedwalk.1, in the man macros */
char *sw_describe_bash (void); /* completion for bash */
char *sw_describe_zsh (void);  /* for zsh, as the function _shedwalk */
char *sw_describe_fish (void); /* for fish */

G_END_DECLS
