/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One start of the program for many runs of it: most of the time of a short command goes into
 * loading its libraries. Where FAULT_SERVE is set, the program waits, loaded and before its main,
 * for words on its standard input, and forks itself for each run; what it does from main on is
 * what it does otherwise.
 *
 * A run is asked for by lines, the last of them empty: "cd FOLDER", "out FILE", "err FILE" (made
 * anew), "env NAME=VALUE", "arg WORD". The answer is a line with the wait status of the run. At the
 * end of the input the program ends. */
#pragma once

/* TRUE where runs are to be asked for; 'begin' is then called in each, with its environment. */
int serve_instead (void (*begin) (void));
