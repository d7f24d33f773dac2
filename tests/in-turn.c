/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "in-turn.h"

#include <stdio.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

#include "cli/cli.h"
#include "cli/command.h"

SwCatalogue *__real_sw_catalogue_open (const char *folder, SwOpenMode mode, GError **error);
void __real_sw_catalogue_close (SwCatalogue *catalogue);
SwCatalogue *__wrap_sw_catalogue_open (const char *folder, SwOpenMode mode, GError **error);
void __wrap_sw_catalogue_close (SwCatalogue *catalogue);

void (*in_turn_opened) (SwCatalogue *catalogue);

static SwCatalogue *held;
static char *held_folder;

void
in_turn_let_go (void)
{
  if (held != NULL)
    __real_sw_catalogue_close (g_steal_pointer (&held));
  g_clear_pointer (&held_folder, g_free);
}

/* A connection that may write serves a reader too. */
SwCatalogue *
__wrap_sw_catalogue_open (const char *folder, SwOpenMode mode G_GNUC_UNUSED, GError **error)
{
  if (held != NULL && strcmp (held_folder, folder) == 0)
    return held;
  in_turn_let_go ();
  held = __real_sw_catalogue_open (folder, SW_OPEN_READ_WRITE, error);
  held_folder = held != NULL ? g_strdup (folder) : NULL;
  if (held != NULL && in_turn_opened != NULL)
    in_turn_opened (held);
  return held;
}

void
__wrap_sw_catalogue_close (SwCatalogue *catalogue)
{
  if (catalogue != NULL && catalogue != held)
    __real_sw_catalogue_close (catalogue);
}

/* A process begins with no option given; the commands keep theirs in variables of their files. */
static void
forget_options (void)
{
  const SwCommand *command;

  for (guint i = 0; (command = sw_command_at (i)) != NULL; i++)
    for (const GOptionEntry *o = command->options; o != NULL && o->long_name != NULL; o++)
      switch (o->arg)
        {
        case G_OPTION_ARG_NONE:
          *(gboolean *)o->arg_data = FALSE;
          break;
        case G_OPTION_ARG_FILENAME:
          g_clear_pointer ((char **)o->arg_data, g_free);
          break;
        case G_OPTION_ARG_FILENAME_ARRAY:
          g_clear_pointer ((char ***)o->arg_data, g_strfreev);
          break;
        default:
          g_error ("the option --%s is of a kind that is not forgotten here", o->long_name);
        }
}

/* What a standard stream got goes into a file in memory. */
typedef struct
{
  FILE *stream;
  int file, before;
} Caught;

static Caught
catch_stream (FILE *stream)
{
  Caught caught = { stream, memfd_create ("caught", MFD_CLOEXEC), dup (fileno (stream)) };

  g_assert (caught.file >= 0 && caught.before >= 0);
  g_assert (dup2 (caught.file, fileno (stream)) >= 0);
  return caught;
}

static GBytes *
let_stream (Caught *caught)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  guint8 part[65536];
  gssize n;

  fflush (caught->stream);
  g_assert (dup2 (caught->before, fileno (caught->stream)) >= 0);
  g_assert (lseek (caught->file, 0, SEEK_SET) == 0);
  while ((n = read (caught->file, part, sizeof part)) > 0)
    g_byte_array_append (bytes, part, (guint)n);
  close (caught->file);
  close (caught->before);
  return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}

int
in_turn_run (char **words, GBytes **out_said, GBytes **out_complained)
{
  Caught out, err;
  int code;

  forget_options ();
  out = catch_stream (stdout);
  err = catch_stream (stderr);
  code = sw_cli_main ((int)g_strv_length (words), words);
  *out_said = let_stream (&out);
  *out_complained = let_stream (&err);
  return code;
}

SwCatalogue *
in_turn_held (void)
{
  return held;
}

SwCatalogue *
in_turn_hold (const char *folder, GError **error)
{
  return __wrap_sw_catalogue_open (folder, SW_OPEN_READ_WRITE, error);
}
