/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Preloaded into the program under test and whatever it starts: every socket that is made, and
 * every path that is written, made, renamed, linked or removed, one line each in the file named by
 * SHEDWALK_TRACE. "socket 2", "write /a/b", "remove /a/b". Its own calls are not counted. */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

/* Prototypes: some have none to glibc's headers. */
#pragma GCC diagnostic ignored "-Wmissing-prototypes"

static int trace = -1;

static void
say (const char *what, const char *path)
{
  char line[PATH_MAX + 64];
  int n = snprintf (line, sizeof line, "%s %s\n", what, path);

  if (trace >= 0 && n > 0)
    syscall (SYS_write, trace, line, (size_t)(n < (int)sizeof line ? n : (int)sizeof line));
}

/* A path as the system would follow it from that folder. */
static void
say_path (const char *what, int folder, const char *path)
{
  char link[64], from[PATH_MAX], whole[2 * PATH_MAX + 2];
  ssize_t n;
  int saved = errno;

  if (trace < 0 || path == NULL)
    return;
  if (path[0] == '/')
    say (what, path);
  else
    {
      if (folder == AT_FDCWD)
        snprintf (link, sizeof link, "/proc/self/cwd");
      else
        snprintf (link, sizeof link, "/proc/self/fd/%d", folder);
      n = syscall (SYS_readlinkat, AT_FDCWD, link, from, sizeof from - 1);
      from[n > 0 ? n : 0] = '\0';
      snprintf (whole, sizeof whole, "%s/%s", from, path);
      say (what, whole);
    }
  errno = saved;
}

__attribute__ ((constructor)) static void
start (void)
{
  const char *path = getenv ("SHEDWALK_TRACE");

  if (path != NULL)
    trace = (int)syscall (SYS_openat, AT_FDCWD, path, O_WRONLY | O_APPEND | O_CLOEXEC, 0);
}

#define REAL(name) ((__typeof__ (&name))dlsym (RTLD_NEXT, #name))

int
socket (int domain, int type, int protocol)
{
  char text[16];

  snprintf (text, sizeof text, "%d", domain);
  say ("socket", text);
  return REAL (socket) (domain, type, protocol);
}

#define WRITES(flags) (((flags)&O_ACCMODE) != O_RDONLY || ((flags) & (O_CREAT | O_TRUNC)) != 0)

#define OPEN(name)                                                                                 \
  int name (const char *path, int flags, ...)                                                      \
  {                                                                                                \
    va_list list;                                                                                  \
    mode_t mode;                                                                                   \
                                                                                                   \
    va_start (list, flags);                                                                        \
    mode = (flags & (O_CREAT | O_TMPFILE)) != 0 ? va_arg (list, mode_t) : 0;                       \
    va_end (list);                                                                                 \
    if (WRITES (flags))                                                                            \
      say_path ("write", AT_FDCWD, path);                                                          \
    return REAL (name) (path, flags, mode);                                                        \
  }
OPEN (open)
OPEN (open64)

#define OPENAT(name)                                                                               \
  int name (int folder, const char *path, int flags, ...)                                          \
  {                                                                                                \
    va_list list;                                                                                  \
    mode_t mode;                                                                                   \
                                                                                                   \
    va_start (list, flags);                                                                        \
    mode = (flags & (O_CREAT | O_TMPFILE)) != 0 ? va_arg (list, mode_t) : 0;                       \
    va_end (list);                                                                                 \
    if (WRITES (flags))                                                                            \
      say_path ("write", folder, path);                                                            \
    return REAL (name) (folder, path, flags, mode);                                                \
  }
OPENAT (openat)
OPENAT (openat64)

#define FOPEN(name)                                                                                \
  FILE *name (const char *path, const char *mode)                                                  \
  {                                                                                                \
    if (strpbrk (mode, "wa+") != NULL)                                                             \
      say_path ("write", AT_FDCWD, path);                                                          \
    return REAL (name) (path, mode);                                                               \
  }
FOPEN (fopen)
FOPEN (fopen64)

int
creat (const char *path, mode_t mode)
{
  say_path ("write", AT_FDCWD, path);
  return REAL (creat) (path, mode);
}

int
mkdir (const char *path, mode_t mode)
{
  say_path ("write", AT_FDCWD, path);
  return REAL (mkdir) (path, mode);
}

int
mkdirat (int folder, const char *path, mode_t mode)
{
  say_path ("write", folder, path);
  return REAL (mkdirat) (folder, path, mode);
}

int
rename (const char *from, const char *to)
{
  say_path ("remove", AT_FDCWD, from);
  say_path ("write", AT_FDCWD, to);
  return REAL (rename) (from, to);
}

int
renameat (int in, const char *from, int out, const char *to)
{
  say_path ("remove", in, from);
  say_path ("write", out, to);
  return REAL (renameat) (in, from, out, to);
}

int
renameat2 (int in, const char *from, int out, const char *to, unsigned flags)
{
  say_path ("remove", in, from);
  say_path ("write", out, to);
  return REAL (renameat2) (in, from, out, to, flags);
}

int
link (const char *from, const char *to)
{
  say_path ("write", AT_FDCWD, to);
  return REAL (link) (from, to);
}

int
linkat (int in, const char *from, int out, const char *to, int flags)
{
  say_path ("write", out, to);
  return REAL (linkat) (in, from, out, to, flags);
}

int
symlink (const char *what, const char *path)
{
  say_path ("write", AT_FDCWD, path);
  return REAL (symlink) (what, path);
}

#define MAKE_TEMP(name)                                                                            \
  int name (char *pattern)                                                                         \
  {                                                                                                \
    int fd = REAL (name) (pattern);                                                                \
                                                                                                   \
    say_path ("write", AT_FDCWD, pattern);                                                         \
    return fd;                                                                                     \
  }
MAKE_TEMP (mkstemp)
MAKE_TEMP (mkstemp64)

int
unlink (const char *path)
{
  say_path ("remove", AT_FDCWD, path);
  return REAL (unlink) (path);
}

int
unlinkat (int folder, const char *path, int flags)
{
  say_path ("remove", folder, path);
  return REAL (unlinkat) (folder, path, flags);
}
