/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command line: finds the command, reads its options, runs it. Never needs a display. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* TRUE when argv[1] is the first word of a command, --help or --version: the command line's
 * business, not the window's. */
gboolean sw_cli_is_for_us (int argc, char **argv);

/* Runs; returns the process's exit code. */
int sw_cli_main (int argc, char **argv);

G_END_DECLS
