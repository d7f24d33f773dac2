/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs commands one after another in one process and on one open catalogue, so that thousands of
 * random properties can be booked and read: of a command's 50 ms, half are the start of a process
 * and half the preparing of every statement. The commands themselves are the program's own, words
 * in and bytes out.
 *
 * Reads a JSON array of words a line from stdin; answers with a line of exit code, bytes of stdout
 * and bytes of stderr, and then those bytes. Ends with stdin. The linker sends the commands'
 * opening and closing of a catalogue here (meson.build). */
#include <json-glib/json-glib.h>
#include <stdio.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

#include "cli/cli.h"
#include "cli/command.h"
#include "core/trade/takings.h"

SwCatalogue *__real_sw_catalogue_open (const char *folder, SwOpenMode mode, GError **error);
void __real_sw_catalogue_close (SwCatalogue *catalogue);
SwCatalogue *__wrap_sw_catalogue_open (const char *folder, SwOpenMode mode, GError **error);
void __wrap_sw_catalogue_close (SwCatalogue *catalogue);

static SwCatalogue *held;
static char *held_folder;

static void
let_go (void)
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
  let_go ();
  held = __real_sw_catalogue_open (folder, SW_OPEN_READ_WRITE, error);
  held_folder = held != NULL ? g_strdup (folder) : NULL;
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

static void
answer (char **words)
{
  Caught out = catch_stream (stdout), err = catch_stream (stderr);
  int code = sw_cli_main ((int)g_strv_length (words), words);
  g_autoptr (GBytes) said = let_stream (&out);
  g_autoptr (GBytes) complained = let_stream (&err);

  printf ("%d %zu %zu\n", code, g_bytes_get_size (said), g_bytes_get_size (complained));
  fwrite (g_bytes_get_data (said, NULL), 1, g_bytes_get_size (said), stdout);
  fwrite (g_bytes_get_data (complained, NULL), 1, g_bytes_get_size (complained), stdout);
  fflush (stdout);
}

static GStrv
read_words (const char *line)
{
  g_autoptr (JsonNode) node = json_from_string (line, NULL);
  g_autoptr (GStrvBuilder) words = g_strv_builder_new ();
  JsonArray *array = json_node_get_array (node);

  g_strv_builder_add (words, "shedwalk");
  for (guint i = 0; i < json_array_get_length (array); i++)
    g_strv_builder_add (words, json_array_get_string_element (array, i));
  return g_strv_builder_end (words);
}

int
main (void)
{
  char *line = NULL;
  size_t size = 0;

  sw_takings_register_check ();
  while (getline (&line, &size, stdin) > 0)
    {
      g_auto (GStrv) words = read_words (line);
      forget_options ();
      answer (words);
    }
  free (line);
  let_go ();
  return 0;
}
