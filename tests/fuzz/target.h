/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One fuzz target: a reader of the program under any bytes. Aborts where a promise is broken; the
 * sanitizers see the rest. The name is the one that libFuzzer calls; replay.c calls it with stored
 * inputs. */
#pragma once

#include <stddef.h>
#include <stdint.h>

int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);
