/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lets one step of one statement fail, as it does when a disk can no longer be read. The linker
 * sends the calls here (meson.build). Belongs to the tests alone. */
#pragma once

/* From now on steps are counted, and the one of that number returns an input/output error without
 * being carried out; 0: none. */
void failing_statement_begin (int at);
/* How many steps there were since; no step fails from now on. */
int failing_statement_end (void);
/* The beginning of the statement that failed last. */
const char *failing_statement_text (void);
