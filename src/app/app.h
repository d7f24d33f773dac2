/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window side of the program. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* `shedwalk`, `shedwalk FOLDER.shedwalk`, `shedwalk --pictures DIR FOLDER.shedwalk`. Returns the
 * process's exit code. */
int sw_app_main (int argc, char **argv);

G_END_DECLS
