/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a process can no longer do once it is fenced in, and what decoding needs it still can. Each
 * is tried in a child; its exit status is the errno of the call, or 0. */
#include "sw-test.h"

#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <sys/mman.h>
#include <sys/socket.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include "core/intake/decode-fence.h"

#define UNFENCED 200 /* the child could not shut itself in */

static int
failed (gboolean it)
{
  return it ? errno : 0;
}

static int
open_a_file (void)
{
  return failed (open ("/etc/passwd", O_RDONLY | O_CLOEXEC) < 0);
}

static int
make_a_file (void)
{
  return failed (open ("/tmp/shedwalk-fence", O_WRONLY | O_CREAT | O_CLOEXEC, 0600) < 0);
}

static int
remove_a_file (void)
{
  return failed (unlink ("/tmp/shedwalk-fence-that-is-not-there") != 0);
}

static int
make_a_socket (void)
{
  return failed (socket (AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0) < 0);
}

static int
start_a_process (void)
{
  pid_t child = fork ();

  if (child == 0)
    _exit (0);
  return failed (child < 0);
}

static int
become_a_program (void)
{
  execl ("/bin/true", "true", NULL);
  return errno;
}

static int
signal_the_parent (void)
{
  return failed (kill (getppid (), 0) != 0);
}

static int
trace_the_parent (void)
{
  return failed (syscall (SYS_ptrace, 16 /* PTRACE_ATTACH */, getppid (), 0, 0) != 0);
}

static int
make_code (void)
{
  void *at
      = mmap (NULL, 4096, PROT_READ | PROT_WRITE | PROT_EXEC, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);

  return failed (at == MAP_FAILED);
}

static int
turn_data_into_code (void)
{
  void *at = mmap (NULL, 4096, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);

  return failed (mprotect (at, 4096, PROT_READ | PROT_EXEC) != 0);
}

static int
use_memory (void)
{
  char *room = malloc (64 << 20);

  if (room == NULL)
    return ENOMEM;
  memset (room, 1, 64 << 20);
  free (room);
  return 0;
}

static int
take_more_memory_than_there_is (void)
{
  void *at
      = mmap (NULL, (gsize)4 << 30, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);

  return failed (at == MAP_FAILED);
}

static void *
nothing (void *data)
{
  return data;
}

static int
run_a_thread (void)
{
  pthread_t thread;
  int why = pthread_create (&thread, NULL, nothing, NULL);

  return why != 0 ? why : pthread_join (thread, NULL);
}

static int
status_of (int (*act) (void), gboolean *out_calls)
{
  int status;
  pid_t child = fork ();

  assert_true (child >= 0);
  if (child == 0)
    {
      guint fence = sw_decode_fence ();

      _exit ((fence & SW_FENCE_LIMITS) == 0  ? UNFENCED
             : (fence & SW_FENCE_CALLS) == 0 ? UNFENCED + 1
                                             : act ());
    }
  assert_int_equal (waitpid (child, &status, 0), child);
  assert_true (WIFEXITED (status));
  assert_int_not_equal (WEXITSTATUS (status), UNFENCED);
  *out_calls = WEXITSTATUS (status) != UNFENCED + 1;
  return WEXITSTATUS (status);
}

static void
test_what_is_refused (void **state)
{
  static int (*const acts[]) (void) = { open_a_file,        make_a_file,      remove_a_file,
                                        make_a_socket,      start_a_process,  become_a_program,
                                        signal_the_parent,  trace_the_parent, make_code,
                                        turn_data_into_code };
  gboolean calls = FALSE;

  for (gsize i = 0; i < G_N_ELEMENTS (acts); i++)
    {
      int status = status_of (acts[i], &calls);

      if (!calls)
        skip (); /* no filter of calls in this kernel or build */
      if (status != EPERM)
        fail_msg ("act %zu ended with %d (%s)", i, status, g_strerror (status));
    }
}

static void
test_what_decoding_needs (void **state)
{
  static int (*const acts[]) (void) = { use_memory, run_a_thread };
  gboolean calls = FALSE;

  for (gsize i = 0; i < G_N_ELEMENTS (acts); i++)
    {
      int status = status_of (acts[i], &calls);

      if (!calls)
        skip ();
      assert_int_equal (status, 0);
    }
  assert_int_equal (status_of (take_more_memory_than_there_is, &calls), ENOMEM);
}

static void
test_it_says_what_it_guards (void **state)
{
  g_auto (GStrv) whole = sw_decode_fence_words (SW_FENCE_LIMITS | SW_FENCE_CALLS);
  g_auto (GStrv) limits = sw_decode_fence_words (SW_FENCE_LIMITS);

  assert_int_equal (g_strv_length (whole), 2);
  assert_non_null (strstr (whole[1], "opens no file"));
  assert_int_equal (g_strv_length (limits), 2);
  assert_non_null (strstr (limits[1], "no filter"));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_what_is_refused),
    cmocka_unit_test (test_what_decoding_needs),
    cmocka_unit_test (test_it_says_what_it_guards),
  };

  return cmocka_run_group_tests (tests, NULL, NULL);
}
