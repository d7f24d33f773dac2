/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/base/language.h"

#define DOMAIN "shedwalk"

void
sw_language_start (const char *folder)
{
  bindtextdomain (DOMAIN, folder);
  bind_textdomain_codeset (DOMAIN, "UTF-8"); /* whatever the terminal speaks, text here is UTF-8 */
  textdomain (DOMAIN);
  (void)gettext ("Shedwalk");
}

char *
sw_text_counted (gint64 n, const char *one, const char *many, ...)
{
  char *text;
  va_list args;

  va_start (args, many);
  text = g_strdup_vprintf (ngettext (one, many, (gulong)ABS (n)), args);
  va_end (args);
  return text;
}
