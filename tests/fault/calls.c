/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Preloaded into the program under test: numbers every call that changes something below one
 * folder, and at one number kills the process, cuts the power or lets the call fail. Asked by the
 * environment:
 *
 *   FAULT_ROOT    the folder; what lies elsewhere is not counted
 *   FAULT_KIND    a word of 'kinds' below
 *   FAULT_AT      the number of the call, from 1; 0: when the process ends
 *   FAULT_ONLY    count only calls whose path holds this
 *   FAULT_REPORT  a file elsewhere that gets a line a call: "write /a/b", and at last "hit write
 *                 /a/b" or "end 120"
 *   FAULT_STASH   an empty folder on the same file system, for power.h
 *   FAULT_SEED    of what a power cut leaves
 *   FAULT_LOCKS   "none": the file system knows no locks; "lie": it grants every one
 *   FAULT_CLOCK   the time it is and stays, in seconds since 1970
 *   FAULT_SERVE   set: many runs of one start, see serve.h
 *
 * Programs that the program starts are left alone. */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <pthread.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/time.h>
#include <sys/uio.h>
#include <time.h>
#include <unistd.h>

#include "power.h"
#include "serve.h"

/* Prototypes: some have none to glibc's headers. */
#pragma GCC diagnostic ignored "-Wmissing-prototypes"

typedef enum
{
  COUNT,
  KILL,
  CUT,
  TORN,
  FULL,
  IO,
  DENIED,
  SHORT,
  N_KINDS,
} Kind;

/* What a call does; which kinds can meet it follows from that. */
typedef enum
{
  DOES_WRITE = 1 << 0,
  DOES_GROW = 1 << 1, /* needs room, but writes no bytes: a name more */
  DOES_FLUSH = 1 << 2,
  DOES_NAME = 1 << 3, /* opens, makes, renames or removes: needs a permission */
  DOES_SHRINK = 1 << 4,
} Does;

static const struct
{
  const char *word;
  unsigned int meets; /* of Does */
  int error, for_good;
} kinds[N_KINDS] = {
  [COUNT] = { "count", 0, 0, 0 },
  [KILL] = { "kill", UINT_MAX, 0, 0 },
  [CUT] = { "cut", UINT_MAX, 0, 0 },
  [TORN] = { "torn", UINT_MAX, 0, 0 },
  [FULL] = { "full", DOES_WRITE | DOES_GROW | DOES_FLUSH, ENOSPC, 1 },
  [IO] = { "io", UINT_MAX, EIO, 0 },
  [DENIED] = { "denied", DOES_NAME, EACCES, 0 },
  [SHORT] = { "short", DOES_WRITE, 0, 0 },
};

static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
static Kind kind = N_KINDS; /* N_KINDS: not asked for anything */
static char root[PATH_MAX], only[PATH_MAX];
static size_t root_n;
static long at, n_calls;
static unsigned int seed;
static int report = -1, met, locks_none, locks_lie;
static time_t clock_stands; /* 0: it goes */
static pid_t self;

#define REAL(name) ((__typeof__ (&name))dlsym (RTLD_NEXT, #name))

static void
say (const char *format, ...)
{
  char line[PATH_MAX + 64];
  va_list list;

  va_start (list, format);
  int n = vsnprintf (line, sizeof line, format, list);
  va_end (list);
  if (report >= 0 && n > 0)
    syscall (SYS_write, report, line, (size_t)n < sizeof line ? (size_t)n : sizeof line - 1);
}

/* At the start of a run. */
static void
begin (void)
{
  const char *word = getenv ("FAULT_KIND"), *text = NULL;

  self = getpid ();
  text = getenv ("FAULT_LOCKS");
  locks_none = text != NULL && strcmp (text, "none") == 0;
  locks_lie = text != NULL && strcmp (text, "lie") == 0;
  clock_stands = getenv ("FAULT_CLOCK") != NULL ? atol (getenv ("FAULT_CLOCK")) : 0;
  if (word == NULL || getenv ("FAULT_ROOT") == NULL)
    return;
  root_n = (size_t)snprintf (root, sizeof root, "%s/", getenv ("FAULT_ROOT"));
  snprintf (only, sizeof only, "%s", getenv ("FAULT_ONLY") != NULL ? getenv ("FAULT_ONLY") : "");
  at = getenv ("FAULT_AT") != NULL ? atol (getenv ("FAULT_AT")) : 0;
  seed = getenv ("FAULT_SEED") != NULL ? (unsigned int)atol (getenv ("FAULT_SEED")) : 0;
  if ((text = getenv ("FAULT_REPORT")) != NULL)
    report
        = (int)syscall (SYS_openat, AT_FDCWD, text, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
  if ((text = getenv ("FAULT_STASH")) != NULL)
    power_start (text);
  for (kind = COUNT; kind < N_KINDS && strcmp (kinds[kind].word, word) != 0; kind++)
    ;
  if (kind == N_KINDS)
    abort ();
}

__attribute__ ((constructor)) static void
start (void)
{
  unsetenv ("LD_PRELOAD");
  if (!serve_instead (begin))
    begin ();
}

static void
die (void)
{
  if (kind == CUT || kind == TORN)
    power_cut (kind == CUT ? POWER_ALL : POWER_TORN, seed);
  syscall (SYS_kill, self, SIGKILL);
}

__attribute__ ((destructor)) static void
end (void)
{
  if (kind == N_KINDS || getpid () != self)
    return;
  if (at == 0 && (kind == KILL || kind == CUT || kind == TORN))
    {
      say ("hit end\n");
      die ();
    }
  say ("end %ld\n", n_calls);
}

static int
is_ours (const char *path)
{
  return kind != N_KINDS && getpid () == self && strncmp (path, root, root_n - 1) == 0
         && (path[root_n - 1] == '/' || path[root_n - 1] == '\0');
}

/* The path of a descriptor: whether it lies in the root. */
static int
path_of (int fd, char *out)
{
  char link[64];
  ssize_t n;

  out[0] = '\0';
  if (kind == N_KINDS || fd < 0)
    return 0;
  snprintf (link, sizeof link, "/proc/self/fd/%d", fd);
  n = syscall (SYS_readlinkat, AT_FDCWD, link, out, PATH_MAX - 1);
  out[n > 0 ? n : 0] = '\0';
  return is_ours (out);
}

/* The path as the system follows it from that folder; links and ".." stay as they are. */
static int
resolve (int folder, const char *path, char *out)
{
  char from[PATH_MAX];

  if (kind == N_KINDS || path == NULL)
    return 0;
  if (path[0] == '/')
    snprintf (out, PATH_MAX, "%s", path);
  else if (folder == AT_FDCWD)
    {
      if (syscall (SYS_getcwd, from, sizeof from) < 0)
        return 0;
      snprintf (out, PATH_MAX, "%.2000s/%.2000s", from, path);
    }
  else
    {
      path_of (folder, from);
      snprintf (out, PATH_MAX, "%.2000s/%.2000s", from, strcmp (path, ".") == 0 ? "" : path);
    }
  return is_ours (out);
}

/* One call that changes something, told before it is made. 0: let it be; a number: fail with it;
 * -1: do half of it. Under the lock. */
static int
meet (Does does, const char *call, const char *path)
{
  if (only[0] != '\0' && strstr (path, only) == NULL)
    return 0;
  n_calls++;
  path += strlen (path) < root_n ? root_n - 1 : root_n;
  say ("%s %s\n", call, path);
  if (kind == COUNT || at == 0 || n_calls < at || (kinds[kind].meets & does) == 0
      || (n_calls > at && !(kinds[kind].for_good && met)))
    return 0;
  if (!met)
    say ("hit %s %s\n", call, path);
  met = 1;
  if (kind == KILL || kind == CUT || kind == TORN)
    die ();
  return kind == SHORT ? -1 : kinds[kind].error;
}

/* ---- bytes ---- */

#define PWRITE(name)                                                                               \
  ssize_t name (int fd, const void *bytes, size_t n, off_t where)                                  \
  {                                                                                                \
    char path[PATH_MAX];                                                                           \
    int fate;                                                                                      \
    ssize_t done;                                                                                  \
                                                                                                   \
    if (!path_of (fd, path))                                                                       \
      return syscall (SYS_pwrite64, fd, bytes, n, where);                                          \
    pthread_mutex_lock (&lock);                                                                    \
    fate = meet (DOES_WRITE, "write", path);                                                       \
    if (fate <= 0)                                                                                 \
      power_write (fd, where, n);                                                                  \
    errno = fate > 0 ? fate : 0;                                                                   \
    done                                                                                           \
        = fate > 0 ? -1 : syscall (SYS_pwrite64, fd, bytes, fate < 0 && n > 1 ? n / 2 : n, where); \
    pthread_mutex_unlock (&lock);                                                                  \
    return done;                                                                                   \
  }
PWRITE (pwrite)
PWRITE (pwrite64)

ssize_t
write (int fd, const void *bytes, size_t n)
{
  char path[PATH_MAX];
  int fate;
  ssize_t done;

  if (!path_of (fd, path))
    return syscall (SYS_write, fd, bytes, n);
  pthread_mutex_lock (&lock);
  fate = meet (DOES_WRITE, "write", path);
  if (fate <= 0)
    power_write (fd, -1, n);
  errno = fate > 0 ? fate : 0;
  done = fate > 0 ? -1 : syscall (SYS_write, fd, bytes, fate < 0 && n > 1 ? n / 2 : n);
  pthread_mutex_unlock (&lock);
  return done;
}

ssize_t
writev (int fd, const struct iovec *pieces, int n)
{
  char path[PATH_MAX];
  int fate;
  ssize_t done;
  size_t all = 0;

  if (!path_of (fd, path))
    return syscall (SYS_writev, fd, pieces, n);
  for (int i = 0; i < n; i++)
    all += pieces[i].iov_len;
  pthread_mutex_lock (&lock);
  fate = meet (DOES_WRITE, "writev", path);
  if (fate <= 0)
    power_write (fd, -1, all);
  errno = fate > 0 ? fate : 0;
  done = fate > 0 ? -1 : syscall (SYS_writev, fd, pieces, fate < 0 && n > 1 ? n / 2 : n);
  pthread_mutex_unlock (&lock);
  return done;
}

#define TRUNCATE(name)                                                                             \
  int name (int fd, off_t size)                                                                    \
  {                                                                                                \
    char path[PATH_MAX];                                                                           \
    int fate, done;                                                                                \
                                                                                                   \
    if (!path_of (fd, path))                                                                       \
      return (int)syscall (SYS_ftruncate, fd, size);                                               \
    pthread_mutex_lock (&lock);                                                                    \
    fate = meet (DOES_SHRINK, "truncate", path);                                                   \
    if (fate <= 0)                                                                                 \
      power_truncate (fd, size);                                                                   \
    errno = fate > 0 ? fate : 0;                                                                   \
    done = fate > 0 ? -1 : (int)syscall (SYS_ftruncate, fd, size);                                 \
    pthread_mutex_unlock (&lock);                                                                  \
    return done;                                                                                   \
  }
TRUNCATE (ftruncate)
TRUNCATE (ftruncate64)

#define FALLOCATE(name)                                                                            \
  int name (int fd, off_t from, off_t n)                                                           \
  {                                                                                                \
    char path[PATH_MAX];                                                                           \
    int fate;                                                                                      \
                                                                                                   \
    if (!path_of (fd, path))                                                                       \
      return REAL (name) (fd, from, n);                                                            \
    pthread_mutex_lock (&lock);                                                                    \
    fate = meet (DOES_GROW, "fallocate", path);                                                    \
    if (fate <= 0)                                                                                 \
      power_truncate (fd, from + n);                                                               \
    pthread_mutex_unlock (&lock);                                                                  \
    return fate > 0 ? fate : REAL (name) (fd, from, n);                                            \
  }
FALLOCATE (posix_fallocate)
FALLOCATE (posix_fallocate64)

/* What stdio holds back it writes inside one of these, by calls that cannot be stood before; a
 * stream is only ever appended to. Half a write is stdio's own business. */
static int
meet_stream (FILE *stream, const char *call)
{
  char path[PATH_MAX];
  int fd = stream != NULL ? fileno (stream) : -1, fate = 0;

  if (!path_of (fd, path) || (syscall (SYS_fcntl, fd, F_GETFL) & O_ACCMODE) == O_RDONLY)
    return 0;
  pthread_mutex_lock (&lock);
  fate = meet (DOES_WRITE, call, path);
  if (fate <= 0)
    power_write (fd, -1, 0);
  pthread_mutex_unlock (&lock);
  return fate > 0 ? fate : 0;
}

size_t
fwrite (const void *bytes, size_t size, size_t n, FILE *stream)
{
  int fate = meet_stream (stream, "fwrite");

  if (fate == 0)
    return REAL (fwrite) (bytes, size, n, stream);
  errno = fate;
  return 0;
}

int
fflush (FILE *stream)
{
  int fate = meet_stream (stream, "fflush");

  if (fate == 0)
    return REAL (fflush) (stream);
  errno = fate;
  return EOF;
}

int
fclose (FILE *stream)
{
  int fate = meet_stream (stream, "fclose");
  int done = REAL (fclose) (stream);

  if (fate == 0)
    return done;
  errno = fate;
  return EOF;
}

/* ---- flushes ---- */

static int
flush (int fd, long number, const char *call)
{
  char path[PATH_MAX];
  int fate, done;

  if (!path_of (fd, path))
    return (int)syscall (number, fd);
  pthread_mutex_lock (&lock);
  fate = meet (DOES_FLUSH, call, path);
  /* nobody pulls the machine's plug here: it need not be waited for */
  if (fate <= 0 && number == SYS_syncfs)
    power_flush_all ();
  else if (fate <= 0)
    power_flush (fd);
  errno = fate > 0 ? fate : 0;
  done = fate > 0 ? -1 : 0;
  pthread_mutex_unlock (&lock);
  return done;
}

int
fsync (int fd)
{
  return flush (fd, SYS_fsync, "fsync");
}

int
fdatasync (int fd)
{
  return flush (fd, SYS_fdatasync, "fdatasync");
}

int
syncfs (int fd)
{
  return flush (fd, SYS_syncfs, "syncfs");
}

/* ---- names ---- */

#define WRITES(flags) (((flags)&O_ACCMODE) != O_RDONLY || ((flags) & (O_CREAT | O_TRUNC)) != 0)

static int
open_it (int folder, const char *path, int flags, mode_t mode)
{
  char whole[PATH_MAX];
  int fate, fd;

  if (!WRITES (flags) || !resolve (folder, path, whole))
    return (int)syscall (SYS_openat, folder, path, flags, mode);
  pthread_mutex_lock (&lock);
  fate = meet (DOES_NAME | ((flags & O_CREAT) != 0 ? DOES_GROW : 0), "open", whole);
  if (fate <= 0)
    power_open (whole, flags);
  errno = fate > 0 ? fate : 0;
  fd = fate > 0 ? -1 : (int)syscall (SYS_openat, folder, path, flags, mode);
  pthread_mutex_unlock (&lock);
  return fd;
}

#define MODE_OF(flags)                                                                             \
  va_list list;                                                                                    \
  mode_t mode;                                                                                     \
  va_start (list, flags);                                                                          \
  mode = (flags & (O_CREAT | O_TMPFILE)) != 0 ? va_arg (list, mode_t) : 0;                         \
  va_end (list)

#define OPEN(name)                                                                                 \
  int name (const char *path, int flags, ...)                                                      \
  {                                                                                                \
    MODE_OF (flags);                                                                               \
    return open_it (AT_FDCWD, path, flags, mode);                                                  \
  }
OPEN (open)
OPEN (open64)

#define OPENAT(name)                                                                               \
  int name (int folder, const char *path, int flags, ...)                                          \
  {                                                                                                \
    MODE_OF (flags);                                                                               \
    return open_it (folder, path, flags, mode);                                                    \
  }
OPENAT (openat)
OPENAT (openat64)

int
mkdirat (int folder, const char *path, mode_t mode)
{
  char whole[PATH_MAX];
  int fate, done;

  if (!resolve (folder, path, whole))
    return (int)syscall (SYS_mkdirat, folder, path, mode);
  pthread_mutex_lock (&lock);
  fate = meet (DOES_NAME | DOES_GROW, "mkdir", whole);
  if (fate <= 0)
    power_mkdir (whole);
  errno = fate > 0 ? fate : 0;
  done = fate > 0 ? -1 : (int)syscall (SYS_mkdirat, folder, path, mode);
  pthread_mutex_unlock (&lock);
  return done;
}

int
mkdir (const char *path, mode_t mode)
{
  return mkdirat (AT_FDCWD, path, mode);
}

int
renameat2 (int a, const char *from, int b, const char *to, unsigned int flags)
{
  char whole[PATH_MAX], other[PATH_MAX];
  struct stat is;
  int fate, done;

  if (!resolve (a, from, other) || !resolve (b, to, whole))
    return (int)syscall (SYS_renameat2, a, from, b, to, flags);
  pthread_mutex_lock (&lock);
  fate = meet (DOES_NAME, "rename", whole);
  /* told only where it will be done: a refusal would be taken back as if it had been */
  if (fate <= 0 && ((flags & RENAME_NOREPLACE) == 0 || lstat (whole, &is) != 0))
    power_rename (other, whole);
  errno = fate > 0 ? fate : 0;
  done = fate > 0 ? -1 : (int)syscall (SYS_renameat2, a, from, b, to, flags);
  pthread_mutex_unlock (&lock);
  return done;
}

int
renameat (int a, const char *from, int b, const char *to)
{
  return renameat2 (a, from, b, to, 0);
}

int
rename (const char *from, const char *to)
{
  return renameat2 (AT_FDCWD, from, AT_FDCWD, to, 0);
}

int
unlinkat (int folder, const char *path, int flags)
{
  char whole[PATH_MAX];
  struct stat is;
  int fate = 0, done;

  if (!resolve (folder, path, whole) || lstat (whole, &is) != 0
      || S_ISDIR (is.st_mode) != ((flags & AT_REMOVEDIR) != 0))
    return (int)syscall (SYS_unlinkat, folder, path, flags);
  pthread_mutex_lock (&lock);
  fate = meet (DOES_NAME | DOES_SHRINK, "unlink", whole);
  if (fate <= 0)
    power_remove (whole);
  errno = fate > 0 ? fate : 0;
  done = fate > 0 ? -1 : (int)syscall (SYS_unlinkat, folder, path, flags);
  pthread_mutex_unlock (&lock);
  return done;
}

int
unlink (const char *path)
{
  return unlinkat (AT_FDCWD, path, 0);
}

int
rmdir (const char *path)
{
  return unlinkat (AT_FDCWD, path, AT_REMOVEDIR);
}

int
remove (const char *path)
{
  struct stat is;

  return unlinkat (AT_FDCWD, path,
                   lstat (path, &is) == 0 && S_ISDIR (is.st_mode) ? AT_REMOVEDIR : 0);
}

/* ---- locks ---- */

int
flock (int fd, int operation)
{
  if (locks_lie)
    return 0;
  errno = ENOLCK;
  return locks_none ? -1 : (int)syscall (SYS_flock, fd, operation);
}

#define FCNTL(name)                                                                                \
  int name (int fd, int command, ...)                                                              \
  {                                                                                                \
    va_list list;                                                                                  \
    void *argument;                                                                                \
                                                                                                   \
    va_start (list, command);                                                                      \
    argument = va_arg (list, void *);                                                              \
    va_end (list);                                                                                 \
    if (command == F_SETLK && locks_lie)                                                           \
      return 0;                                                                                    \
    errno = ENOLCK;                                                                                \
    if ((command == F_SETLK || command == F_GETLK) && locks_none)                                  \
      return -1;                                                                                   \
    return (int)syscall (SYS_fcntl, fd, command, argument);                                        \
  }
FCNTL (fcntl)
FCNTL (fcntl64)

/* ---- the clock ---- */

int
clock_gettime (clockid_t id, struct timespec *out)
{
  if (clock_stands == 0 || id != CLOCK_REALTIME)
    return (int)syscall (SYS_clock_gettime, id, out);
  *out = (struct timespec){ .tv_sec = clock_stands };
  return 0;
}

int
gettimeofday (struct timeval *restrict out, void *restrict zone)
{
  if (clock_stands == 0)
    return (int)syscall (SYS_gettimeofday, out, zone);
  *out = (struct timeval){ .tv_sec = clock_stands };
  return 0;
}
