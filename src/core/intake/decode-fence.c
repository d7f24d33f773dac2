/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A filter of system calls by libseccomp, and limits by setrlimit. A refused call fails as one
 * without permission does; decoders take that as they take a missing file. */
#include "core/intake/decode-fence.h"

#include <errno.h>
#include <sched.h>
#include <seccomp.h>
#include <signal.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <unistd.h>

#include "core/base/language.h"

#define MEMORY_LIMIT (G_GUINT64_CONSTANT (3) << 30)

/* AddressSanitizer reserves terabytes, reads /proc and starts a thread when it reports. */
#if defined(__SANITIZE_ADDRESS__)
#define WATCHED TRUE
#else
#define WATCHED FALSE
#endif

/* What decoding needs, whatever it is called with. Descriptors come over the socket alone. */
static const int allowed[] = {
  /* a picture in, pixels out */
  SCMP_SYS (recvmsg),
  SCMP_SYS (sendto),
  SCMP_SYS (sendmsg),
  SCMP_SYS (read),
  SCMP_SYS (write),
  SCMP_SYS (pread64),
  SCMP_SYS (lseek),
  SCMP_SYS (fstat),
  SCMP_SYS (newfstatat), /* what glibc asks of an open descriptor; it reads no file */
  SCMP_SYS (close),
  SCMP_SYS (poll),
  SCMP_SYS (ppoll),
  /* memory */
  SCMP_SYS (brk),
  SCMP_SYS (munmap),
  SCMP_SYS (mremap),
  SCMP_SYS (madvise),
  /* threads of the decoders */
  SCMP_SYS (futex),
  SCMP_SYS (set_robust_list),
  SCMP_SYS (rseq),
  SCMP_SYS (sched_getaffinity),
  SCMP_SYS (sched_yield),
  SCMP_SYS (membarrier),
  SCMP_SYS (gettid),
  SCMP_SYS (getpid),
  /* time */
  SCMP_SYS (clock_gettime),
  SCMP_SYS (clock_getres),
  SCMP_SYS (clock_nanosleep),
  SCMP_SYS (nanosleep),
  SCMP_SYS (gettimeofday),
  SCMP_SYS (getrusage),
  SCMP_SYS (restart_syscall),
  /* chance and size of the machine */
  SCMP_SYS (getrandom),
  SCMP_SYS (sysinfo),
  SCMP_SYS (uname),
  /* ends */
  SCMP_SYS (rt_sigaction),
  SCMP_SYS (rt_sigprocmask),
  SCMP_SYS (rt_sigreturn),
  SCMP_SYS (sigaltstack),
  SCMP_SYS (exit),
  SCMP_SYS (exit_group),
};

/* Needed in one form only. */
static gboolean
allow_in_part (scmp_filter_ctx filter)
{
  const scmp_datum_t self = (scmp_datum_t)getpid ();

  return seccomp_rule_add (filter, SCMP_ACT_ALLOW, SCMP_SYS (mmap), 1,
                           SCMP_A2 (SCMP_CMP_MASKED_EQ, PROT_EXEC, 0))
             == 0
         && seccomp_rule_add (filter, SCMP_ACT_ALLOW, SCMP_SYS (mprotect), 1,
                              SCMP_A2 (SCMP_CMP_MASKED_EQ, PROT_EXEC, 0))
                == 0
         && seccomp_rule_add (filter, SCMP_ACT_ALLOW, SCMP_SYS (clone), 1,
                              SCMP_A0 (SCMP_CMP_MASKED_EQ, CLONE_THREAD, CLONE_THREAD))
                == 0
         /* its flags lie in memory, where no filter can read them: glibc then falls back to clone
          */
         && seccomp_rule_add (filter, SCMP_ACT_ERRNO (ENOSYS), SCMP_SYS (clone3), 0) == 0
         /* the allowance of processor time for each picture, and what an abort asks */
         && seccomp_rule_add (filter, SCMP_ACT_ALLOW, SCMP_SYS (prlimit64), 1,
                              SCMP_A0 (SCMP_CMP_EQ, 0))
                == 0
         && seccomp_rule_add (filter, SCMP_ACT_ALLOW, SCMP_SYS (tgkill), 1,
                              SCMP_A0 (SCMP_CMP_EQ, self))
                == 0
         && seccomp_rule_add (filter, SCMP_ACT_ALLOW, SCMP_SYS (prctl), 1,
                              SCMP_A0 (SCMP_CMP_EQ, PR_SET_NAME))
                == 0;
}

static gboolean
filter_calls (void)
{
  scmp_filter_ctx filter = WATCHED ? NULL : seccomp_init (SCMP_ACT_ERRNO (EPERM));
  gboolean done = filter != NULL;

  for (gsize i = 0; done && i < G_N_ELEMENTS (allowed); i++)
    done = seccomp_rule_add (filter, SCMP_ACT_ALLOW, allowed[i], 0) == 0;
  done = done && allow_in_part (filter) && seccomp_load (filter) == 0;
  if (filter != NULL)
    seccomp_release (filter);
  return done;
}

static gboolean
limit (int what, rlim_t value)
{
  struct rlimit r = { value, value };

  return setrlimit ((__rlimit_resource_t)what, &r) == 0;
}

guint
sw_decode_fence (void)
{
  guint fence = 0;

  prctl (PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0);
  if (limit (RLIMIT_CORE, 0) && limit (RLIMIT_FSIZE, 0)
      && (WATCHED || limit (RLIMIT_AS, MEMORY_LIMIT)))
    fence |= SW_FENCE_LIMITS;
  if (filter_calls ())
    fence |= SW_FENCE_CALLS;
  return fence;
}

char **
sw_decode_fence_words (guint fence)
{
  g_autoptr (GStrvBuilder) words = g_strv_builder_new ();

  if ((fence & SW_FENCE_LIMITS) != 0)
    g_strv_builder_add (words, _ ("It takes at most 3 GB of memory and 40 s a picture, and writes "
                                  "no file."));
  if ((fence & SW_FENCE_CALLS) != 0)
    g_strv_builder_add (words, _ ("It opens no file and no network connection, starts no program "
                                  "and reaches no other one: the kernel refuses it."));
  else
    g_strv_builder_add (words, _ ("This system has no filter of system calls: a picture made to "
                                  "attack a decoder could do what you may do."));
  return g_strv_builder_end (words);
}
