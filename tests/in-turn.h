/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs commands one after another in one process and on one open catalogue: of a command's 50 ms,
 * half are the start of a process and half the preparing of every statement. The commands
 * themselves are the program's own, words in and bytes out. Belongs to the tests alone; a program
 * that links it has the commands' opening and closing of a catalogue sent here by its linker
 * (in_turn_link_args in meson.build). */
#pragma once

#include "core/catalogue/catalogue.h"

/* Called with each catalogue that was opened and is held from now on; NULL: nothing to do. */
extern void (*in_turn_opened) (SwCatalogue *catalogue);

/* Runs one command; words[0] is the program's name. Returns its exit code, and what it printed:
 * transfer full. */
int in_turn_run (char **words, GBytes **out_said, GBytes **out_complained);
/* The catalogue of the last command, open: transfer none; NULL: none. */
SwCatalogue *in_turn_held (void);
/* Opens it and holds it, as a command would; NULL on an error. Transfer none. */
SwCatalogue *in_turn_hold (const char *folder, GError **error);
/* Closes what is held. */
void in_turn_let_go (void);
