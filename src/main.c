/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One program, two ways in: a command and the window. */
#include <fcntl.h>
#include <locale.h>
#include <string.h>
#include <unistd.h>

#include "app/app.h"
#include "cli/cli.h"
#include "core/base/language.h"
#include "core/intake/decoder.h"
#include "core/trade/takings.h"

#define HELPER "shedwalk-decode"

/* Called with standard streams closed, the next files opened would take their numbers, and what is
 * printed would land in a photo. A stream that reads only keeps the number and still fails a
 * write. */
static void
keep_standard_streams (void)
{
  int fd;

  do
    fd = open ("/dev/null", O_RDONLY);
  while (fd >= 0 && fd <= STDERR_FILENO);
  if (fd > STDERR_FILENO)
    close (fd);
}

/* What lies with this program, seen from its own folder: as built, or as installed. */
static void
find_companions (void)
{
  static const char *const ways[][2]
      = { { "", "../ui/po" }, { SW_DECODE_FOLDER, SW_LOCALE_FOLDER } };
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *folder = self != NULL ? g_path_get_dirname (self) : NULL;
  g_autofree char *beside = folder != NULL ? g_build_filename (folder, HELPER, NULL) : NULL;
  gboolean built = beside != NULL && g_file_test (beside, G_FILE_TEST_IS_EXECUTABLE);
  g_autofree char *helper = NULL, *languages = NULL, *decode_folder = NULL;

  if (folder == NULL)
    return;
  decode_folder = g_canonicalize_filename (ways[!built][0], folder);
  helper = g_build_filename (decode_folder, HELPER, NULL);
  sw_decoder_set_program (helper);
  languages = g_canonicalize_filename (ways[!built][1], folder);
  sw_language_start (languages);
}

/* The window goes by all of the person's locale. A command takes its language and nothing else:
 * numbers, days and order in what it prints are a contract. With --json not even that: what another
 * program reads is the same everywhere. */
static void
take_locale (gboolean window, char **argv)
{
  if (window)
    {
      setlocale (LC_ALL, "");
      /* without a locale of one's own the window still writes days out, in all it shows alike */
      if (strcmp (setlocale (LC_TIME, NULL), "C") == 0)
        setlocale (LC_TIME, "C.UTF-8");
    }
  else if (!g_strv_contains ((const char *const *)argv, "--json"))
    setlocale (LC_MESSAGES, "");
}

int
main (int argc, char **argv)
{
  gboolean window = !sw_cli_is_for_us (argc, argv);

  keep_standard_streams ();
  take_locale (window, argv);
  find_companions ();
  sw_takings_register_check ();
  return window ? sw_app_main (argc, argv) : sw_cli_main (argc, argv);
}
