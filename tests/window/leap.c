/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Preloaded into the program under test: the clock on the wall leaps by as many microseconds as
 * stand in the file named by SHEDWALK_LEAP (eight bytes, mapped), as after a sleep of the machine
 * or when somebody sets it. The clocks that only count what passes are left alone, as the system
 * does it. */
#include <dlfcn.h>
#include <fcntl.h>
#include <stdint.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/time.h>
#include <time.h>
#include <unistd.h>

#pragma GCC diagnostic ignored "-Wmissing-prototypes"
#pragma GCC diagnostic ignored "-Wnonnull-compare"

static const volatile int64_t *leap;
static int (*real_gettime) (clockid_t, struct timespec *);

__attribute__ ((constructor)) static void
start (void)
{
  const char *path = getenv ("SHEDWALK_LEAP");
  int file = path != NULL ? open (path, O_RDONLY | O_CLOEXEC) : -1;
  void *at = file >= 0 ? mmap (NULL, sizeof *leap, PROT_READ, MAP_SHARED, file, 0) : MAP_FAILED;

  *(void **)&real_gettime = dlsym (RTLD_NEXT, "clock_gettime");
  if (at != MAP_FAILED)
    leap = at;
  if (file >= 0)
    close (file);
}

int
clock_gettime (clockid_t clock, struct timespec *t)
{
  int answer;

  if (real_gettime == NULL)
    *(void **)&real_gettime = dlsym (RTLD_NEXT, "clock_gettime");
  answer = real_gettime (clock, t);
  if (answer == 0 && leap != NULL && (clock == CLOCK_REALTIME || clock == CLOCK_REALTIME_COARSE))
    t->tv_sec += *leap / 1000000;
  return answer;
}

int
gettimeofday (struct timeval *t, void *zone)
{
  struct timespec now;

  clock_gettime (CLOCK_REALTIME, &now);
  t->tv_sec = now.tv_sec;
  t->tv_usec = now.tv_nsec / 1000;
  return 0;
}

time_t
time (time_t *t)
{
  struct timespec now;

  clock_gettime (CLOCK_REALTIME, &now);
  if (t != NULL)
    *t = now.tv_sec;
  return now.tv_sec;
}
