/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Preloaded into the program under test: how long its main thread computes between two polls, how
 * many frames it paints, what it is at in its long turns, and which file and SQL calls it makes
 * there. A turn that only answered who looks at the window by AT-SPI, and quickly, is counted
 * apart: a test that looks often must not make the share of long turns small. Nothing of this is in
 * the program itself. Counts lie in the shared file named by SHEDWALK_WATCH, so that who drives the
 * window reads them at any moment; watch.py knows the layout. Makes no call of its own that it
 * counts. */
#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <execinfo.h>
#include <fcntl.h>
#include <gio/gio.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/un.h>
#include <time.h>
#include <unistd.h>

#define MAGIC G_GUINT64_CONSTANT (0x5377576174636832)
#define BUCKETS 2048 /* of half a millisecond; the last holds all that is longer */
#define CALLS 512
#define DEPTH 24
#define LOOK_US 1000 /* a turn for AT-SPI that takes longer than this is a turn like any other */
#define LONG_US 16000
#define SAMPLES 64
#define SAMPLE_US 5000 /* of processor time between two looks at what a turn is at */
#define TURN_SAMPLES 8

typedef struct
{
  char what[24];
  char path[232];
  void *frames[DEPTH];
} Call;

typedef struct
{
  guint64 us; /* how long the turn took in which it was taken */
  void *frames[DEPTH];
} Sample;

typedef struct
{
  guint64 magic, stalls, frames, n_calls, looks, n_samples;
  guint64 cpu[BUCKETS], wall[BUCKETS];
  Call calls[CALLS];
  Sample samples[SAMPLES]; /* of the last long turns */
} Watch;

static Watch *watch;
static pid_t main_thread;
static gint64 cpu_at, wall_at; /* of the last return from poll; 0: none yet */
static gboolean hooked;
static gboolean looked_at; /* what woke this turn was AT-SPI alone */
static timer_t sampler;    /* the first of a process is 0 */
static gboolean sampling;
static Sample taken[TURN_SAMPLES]; /* in this turn */
static volatile guint n_taken;

static gint64
clock_us (clockid_t clock)
{
  struct timespec t;

  clock_gettime (clock, &t);
  return t.tv_sec * G_GINT64_CONSTANT (1000000) + t.tv_nsec / 1000;
}

static gboolean
is_main (void)
{
  return watch != NULL && syscall (SYS_gettid) == main_thread;
}

/* --- stalls and frames --- */

static gboolean
on_frame (GSignalInvocationHint *hint, guint n, const GValue *values, gpointer data)
{
  watch->frames++;
  return TRUE;
}

/* Once GDK is there. */
static void
hook_frames (void)
{
  GType type = g_type_from_name ("GdkFrameClock");
  guint id
      = type != 0 && g_type_class_peek (type) != NULL ? g_signal_lookup ("after-paint", type) : 0;

  if (id == 0)
    return;
  g_signal_add_emission_hook (id, 0, on_frame, NULL, NULL);
  hooked = TRUE;
}

static void
count (guint64 *buckets, gint64 us)
{
  buckets[CLAMP (us / 500, 0, BUCKETS - 1)]++;
}

/* Whether it leads to the accessibility bus, by the name of either end. */
static gboolean
leads_to_atspi (int fd)
{
  struct sockaddr_un ends[2];
  socklen_t n = sizeof ends[0], m = sizeof ends[1];

  memset (ends, 0, sizeof ends);
  return (getpeername (fd, (struct sockaddr *)&ends[0], &n) == 0 && ends[0].sun_family == AF_UNIX
          && strstr (ends[0].sun_path + 1, "at-spi") != NULL)
         || (getsockname (fd, (struct sockaddr *)&ends[1], &m) == 0 && ends[1].sun_family == AF_UNIX
             && strstr (ends[1].sun_path + 1, "at-spi") != NULL);
}

/* GLib's own, by which a source is announced ready; libdbus announces so what it read. */
static gboolean
is_wake_up (int fd)
{
  char link[64], path[64];
  ssize_t n;

  g_snprintf (link, sizeof link, "/proc/self/fd/%d", fd);
  n = syscall (SYS_readlinkat, AT_FDCWD, link, path, sizeof path - 1);
  path[MAX (n, 0)] = '\0';
  return strcmp (path, "anon_inode:[eventfd]") == 0;
}

/* Nothing but AT-SPI is ready, and no time was up; or it was so a turn ago, and what libdbus read
 * then is answered now. */
static gboolean
is_look (const GPollFD *fds, guint n, int timeout, int ready)
{
  gboolean any = FALSE;
  guint i;

  if (timeout == 0 && !looked_at)
    return FALSE;
  for (i = 0; ready > 0 && i < n; i++)
    if (fds[i].revents != 0)
      {
        if (!leads_to_atspi (fds[i].fd) && !(looked_at && is_wake_up (fds[i].fd)))
          return FALSE;
        any = TRUE;
      }
  return any || (timeout == 0 && ready == 0);
}

/* --- what a long turn is at --- */

static void
on_sample (int number)
{
  if (n_taken < TURN_SAMPLES)
    backtrace (taken[n_taken++].frames, DEPTH);
}

/* By the main thread's own processor time, so that a busy machine samples nothing. */
static void
start_sampler (void)
{
  struct sigaction action = { .sa_handler = on_sample, .sa_flags = SA_RESTART };
  struct sigevent event = { .sigev_notify = SIGEV_THREAD_ID, .sigev_signo = SIGRTMIN + 3 };

  event._sigev_un._tid = main_thread;
  sigaction (SIGRTMIN + 3, &action, NULL);
  sampling = timer_create (CLOCK_THREAD_CPUTIME_ID, &event, &sampler) == 0;
}

static void
set_sampler (gint64 us)
{
  struct itimerspec when = { .it_value.tv_nsec = us * 1000, .it_interval.tv_nsec = us * 1000 };

  if (sampling)
    timer_settime (sampler, 0, &when, NULL);
}

static void
keep_samples (gint64 cpu)
{
  for (guint i = 0; i < n_taken && cpu >= LONG_US; i++)
    {
      taken[i].us = cpu;
      watch->samples[watch->n_samples++ % SAMPLES] = taken[i];
    }
  n_taken = 0;
  memset (taken, 0, sizeof taken);
}

static void
count_turn (gint64 cpu, gint64 wall)
{
  keep_samples (cpu);
  if (looked_at && cpu < LOOK_US)
    {
      watch->looks++;
      return;
    }
  count (watch->cpu, cpu);
  count (watch->wall, wall);
  watch->stalls++;
}

static int
watched_poll (GPollFD *fds, guint n, int timeout)
{
  int ready;

  if (!is_main ())
    return g_poll (fds, n, timeout);
  set_sampler (0);
  if (!hooked)
    hook_frames ();
  if (cpu_at != 0)
    count_turn (clock_us (CLOCK_THREAD_CPUTIME_ID) - cpu_at, clock_us (CLOCK_MONOTONIC) - wall_at);
  ready = g_poll (fds, n, timeout);
  looked_at = is_look (fds, n, timeout, ready);
  cpu_at = clock_us (CLOCK_THREAD_CPUTIME_ID);
  wall_at = clock_us (CLOCK_MONOTONIC);
  set_sampler (SAMPLE_US);
  return ready;
}

__attribute__ ((constructor)) static void
start (void)
{
  const char *path = getenv ("SHEDWALK_WATCH");
  void *frames[1];
  int fd = path != NULL ? (int)syscall (SYS_openat, AT_FDCWD, path, O_RDWR | O_CLOEXEC, 0) : -1;
  void *map;

  if (fd < 0)
    return;
  backtrace (frames, 1); /* loads what it needs now */
  map = mmap (NULL, sizeof *watch, PROT_READ | PROT_WRITE, MAP_SHARED, fd, 0);
  close (fd);
  if (map == MAP_FAILED || ((Watch *)map)->magic != 0)
    return; /* a helper of the program: only the first process is watched */
  main_thread = getpid ();
  watch = map;
  watch->magic = MAGIC;
  start_sampler ();
  g_main_context_set_poll_func (g_main_context_default (), watched_poll);
}

/* --- calls --- */

/* What the stack holds, as offsets that addr2line understands once the bases are known: the
 * program's own are enough to find the caller. */
static void
note (const char *what, const char *path)
{
  Call *call;
  guint64 i;
  int saved = errno;

  if (!is_main () || cpu_at == 0)
    return;
  i = watch->n_calls++;
  if (i < CALLS)
    {
      call = &watch->calls[i];
      g_strlcpy (call->what, what, sizeof call->what);
      g_strlcpy (call->path, path != NULL ? path : "", sizeof call->path);
      backtrace (call->frames, DEPTH);
    }
  errno = saved;
}

/* Of a descriptor: only what lies in a file system counts; sockets and wake-ups do not. */
static void
note_fd (const char *what, int fd)
{
  struct stat st;
  char link[64], path[232];
  ssize_t n;
  int saved = errno;

  if (!is_main () || cpu_at == 0)
    return;
  if (syscall (SYS_fstat, fd, &st) == 0 && (S_ISREG (st.st_mode) || S_ISDIR (st.st_mode)))
    {
      g_snprintf (link, sizeof link, "/proc/self/fd/%d", fd);
      n = syscall (SYS_readlinkat, AT_FDCWD, link, path, sizeof path - 1);
      path[MAX (n, 0)] = '\0';
      note (what, path);
    }
  errno = saved;
}

#define NEXT(name) ((typeof (&name))next (#name))

static void *
next (const char *name)
{
  return dlsym (RTLD_NEXT, name);
}

#define WRAP_OPEN(name)                                                                            \
  int name (const char *path, int flags, ...)                                                      \
  {                                                                                                \
    static int (*real) (const char *, int, ...);                                                   \
    va_list more;                                                                                  \
    mode_t mode;                                                                                   \
    va_start (more, flags);                                                                        \
    mode = (flags & (O_CREAT | O_TMPFILE)) != 0 ? va_arg (more, mode_t) : 0;                       \
    va_end (more);                                                                                 \
    if (real == NULL)                                                                              \
      real = next (#name);                                                                         \
    note (#name, path);                                                                            \
    return real (path, flags, mode);                                                               \
  }
#define WRAP_OPENAT(name)                                                                          \
  int name (int at, const char *path, int flags, ...)                                              \
  {                                                                                                \
    static int (*real) (int, const char *, int, ...);                                              \
    va_list more;                                                                                  \
    mode_t mode;                                                                                   \
    va_start (more, flags);                                                                        \
    mode = (flags & (O_CREAT | O_TMPFILE)) != 0 ? va_arg (more, mode_t) : 0;                       \
    va_end (more);                                                                                 \
    if (real == NULL)                                                                              \
      real = next (#name);                                                                         \
    note (#name, path);                                                                            \
    return real (at, path, flags, mode);                                                           \
  }
/* by path */
#define WRAP_PATH(type, name, parameters, path, arguments)                                         \
  type name parameters                                                                             \
  {                                                                                                \
    static type (*real) parameters;                                                                \
    if (real == NULL)                                                                              \
      real = next (#name);                                                                         \
    note (#name, path);                                                                            \
    return real arguments;                                                                         \
  }
/* by descriptor */
#define WRAP_FD(type, name, parameters, arguments)                                                 \
  type name parameters                                                                             \
  {                                                                                                \
    static type (*real) parameters;                                                                \
    if (real == NULL)                                                                              \
      real = next (#name);                                                                         \
    note_fd (#name, fd);                                                                           \
    return real arguments;                                                                         \
  }

#pragma GCC diagnostic ignored "-Wmissing-prototypes"
#pragma GCC diagnostic ignored "-Wnonnull-compare"
#undef stat
#undef lstat

WRAP_OPEN (open)
WRAP_OPEN (open64)
WRAP_OPENAT (openat)
WRAP_OPENAT (openat64)
WRAP_PATH (FILE *, fopen, (const char *path, const char *mode), path, (path, mode))
WRAP_PATH (FILE *, fopen64, (const char *path, const char *mode), path, (path, mode))
WRAP_PATH (DIR *, opendir, (const char *path), path, (path))
WRAP_PATH (int, rename, (const char *path, const char *to), path, (path, to))
WRAP_PATH (int, unlink, (const char *path), path, (path))
WRAP_PATH (int, mkdir, (const char *path, mode_t mode), path, (path, mode))
WRAP_PATH (int, access, (const char *path, int mode), path, (path, mode))
WRAP_PATH (int, stat, (const char *path, struct stat *st), path, (path, st))
WRAP_PATH (int, lstat, (const char *path, struct stat *st), path, (path, st))
WRAP_PATH (int, stat64, (const char *path, struct stat64 *st), path, (path, st))
WRAP_PATH (int, lstat64, (const char *path, struct stat64 *st), path, (path, st))
WRAP_FD (ssize_t, read, (int fd, void *to, size_t n), (fd, to, n))
WRAP_FD (ssize_t, pread, (int fd, void *to, size_t n, off_t at), (fd, to, n, at))
WRAP_FD (ssize_t, pread64, (int fd, void *to, size_t n, off64_t at), (fd, to, n, at))
WRAP_FD (ssize_t, write, (int fd, const void *from, size_t n), (fd, from, n))
WRAP_FD (ssize_t, pwrite, (int fd, const void *from, size_t n, off_t at), (fd, from, n, at))
WRAP_FD (ssize_t, pwrite64, (int fd, const void *from, size_t n, off64_t at), (fd, from, n, at))
WRAP_FD (int, fsync, (int fd), (fd))
WRAP_FD (int, fdatasync, (int fd), (fd))

/* of SQLite, whose types are not needed here */
WRAP_PATH (int, sqlite3_step, (void *statement), "", (statement))
WRAP_PATH (int, sqlite3_exec, (void *db, const char *sql, void *row, void *data, char **message),
           sql, (db, sql, row, data, message))
WRAP_PATH (int, sqlite3_prepare_v2,
           (void *db, const char *sql, int n, void **statement, const char **tail), sql,
           (db, sql, n, statement, tail))
WRAP_PATH (int, sqlite3_prepare_v3,
           (void *db, const char *sql, int n, unsigned flags, void **statement, const char **tail),
           sql, (db, sql, n, flags, statement, tail))
WRAP_PATH (int, sqlite3_open_v2, (const char *path, void **db, int flags, const char *vfs), path,
           (path, db, flags, vfs))
