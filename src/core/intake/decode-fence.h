/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fence around the process that decodes pictures: what a hostile picture can make of it. Intake
 * layer. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  SW_FENCE_LIMITS = 1 << 0, /* memory is bounded, no file is written, no core is dumped */
  SW_FENCE_CALLS = 1 << 1,  /* the kernel refuses every call that decoding does not need: no file is
                             * opened, no socket made, no program started, no other process
                             * signalled, no memory made executable */
} SwFence;

/* Shuts the calling process in, for good; children too. To be called with one thread and with all
 * libraries loaded. Returns what holds: where the kernel or the build (AddressSanitizer) has no
 * filter of calls, the limits alone do. */
guint sw_decode_fence (void);
/* One sentence for each thing a fence of these flags guards, for `shedwalk-decode --fence`.
 * NULL-terminated; transfer full. */
char **sw_decode_fence_words (guint fence);

G_END_DECLS
