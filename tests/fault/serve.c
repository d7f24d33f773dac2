/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "serve.h"

#include <dlfcn.h>
#include <err.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdio_ext.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/* Prototypes: it has none to glibc's headers. */
#pragma GCC diagnostic ignored "-Wmissing-prototypes"

#define WORDS_AT_MOST 64

typedef int (*Main) (int argc, char **argv, char **environment);

typedef struct
{
  char *folder, *out, *err;
  char *env[WORDS_AT_MOST], *args[WORDS_AT_MOST + 1]; /* args: NULL at the end */
  int n_env, n_args;
} Asked;

static Main real_main;
static void (*begin_run) (void);

int
serve_instead (void (*begin) (void))
{
  if (getenv ("FAULT_SERVE") == NULL)
    return 0;
  unsetenv ("FAULT_SERVE");
  begin_run = begin;
  return 1;
}

static void
keep (char **list, int *n, char *word)
{
  if (*n == WORDS_AT_MOST)
    errx (2, "too many words");
  list[(*n)++] = word;
}

static void
take_line (Asked *asked, const char *line)
{
  char *value = strchr (line, ' ');

  if (value == NULL || (value = strdup (value + 1)) == NULL)
    errx (2, "not asked for: %s", line);
  if (strncmp (line, "cd ", 3) == 0)
    asked->folder = value;
  else if (strncmp (line, "out ", 4) == 0)
    asked->out = value;
  else if (strncmp (line, "err ", 4) == 0)
    asked->err = value;
  else if (strncmp (line, "env ", 4) == 0)
    keep (asked->env, &asked->n_env, value);
  else if (strncmp (line, "arg ", 4) == 0)
    keep (asked->args, &asked->n_args, value);
  else
    errx (2, "not asked for: %s", line);
}

static void
let_go (Asked *asked)
{
  free (asked->folder);
  free (asked->out);
  free (asked->err);
  for (int i = 0; i < asked->n_env; i++)
    free (asked->env[i]);
  for (int i = 0; i < asked->n_args; i++)
    free (asked->args[i]);
}

/* 0 at the end of the input. */
static int
take (Asked *asked)
{
  static char *line;
  static size_t room;
  ssize_t n;

  memset (asked, 0, sizeof *asked);
  while ((n = getline (&line, &room, stdin)) > 0)
    {
      line[n - 1] = '\0';
      if (line[0] == '\0')
        return 1;
      take_line (asked, line);
    }
  return 0;
}

static void
put_in_place (int fd, const char *path, int flags)
{
  int opened = open (path, flags, 0600);
  if (opened < 0 || dup2 (opened, fd) < 0)
    err (2, "%s", path);
  if (opened != fd)
    close (opened);
}

/* In the fork: as if it had just been started. */
static int
run (Asked *asked)
{
  put_in_place (STDOUT_FILENO, asked->out, O_WRONLY | O_CREAT | O_TRUNC);
  put_in_place (STDERR_FILENO, asked->err, O_WRONLY | O_CREAT | O_TRUNC);
  /* not fclose: it would move the place in a pipe's buffer that is the parent's */
  put_in_place (STDIN_FILENO, "/dev/null", O_RDONLY);
  __fpurge (stdin);
  if (chdir (asked->folder) < 0)
    err (2, "%s", asked->folder);
  for (int i = 0; i < asked->n_env; i++)
    if (putenv (asked->env[i]) != 0)
      err (2, "%s", asked->env[i]);
  begin_run ();
  return real_main (asked->n_args, asked->args, environ);
}

static int
serve (int argc, char **argv, char **environment)
{
  Asked asked;

  (void)argc, (void)argv, (void)environment;
  while (take (&asked))
    {
      int status;
      pid_t pid = fork ();

      if (pid < 0)
        err (2, "fork");
      if (pid == 0)
        return run (&asked);
      if (waitpid (pid, &status, 0) != pid)
        err (2, "waitpid");
      dprintf (STDOUT_FILENO, "%d\n", status);
      let_go (&asked);
    }
  _exit (0);
}

/* What a program's first instructions call (Linux Standard Base Core 5.0, __libc_start_main). */
int
__libc_start_main (Main main, int argc, char **argv, void (*init) (void), void (*fini) (void),
                   void (*rtld_fini) (void), void *stack_end)
{
  __typeof__ (&__libc_start_main) real
      = (__typeof__ (&__libc_start_main))dlsym (RTLD_NEXT, "__libc_start_main");

  real_main = main;
  return real (begin_run != NULL ? serve : main, argc, argv, init, fini, rtld_fini, stack_end);
}
