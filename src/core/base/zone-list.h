/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which IANA zones there are, and which one this machine is in. Base layer. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Names of the system's table of zones ("zone.tab" of the IANA database, beside the zone files), in
 * byte order; without the table an empty list. NULL-terminated, transfer full. Reads a file. */
char **sw_zone_names (void);

/* The zone that the system keeps: $TZ where it is a name, else what /etc/localtime links to, else
 * /etc/timezone. NULL where none of them names a zone that can be read. Transfer full. */
char *sw_zone_guess (void);

/* The same with other files, for tests; each may be NULL. */
char *sw_zone_guess_from (const char *tz, const char *localtime_path, const char *timezone_path);

G_END_DECLS
