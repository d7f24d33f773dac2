/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a decode helper answers, read by its parent. The helper may have been taken over by the
 * picture it reads, so that nothing of it is believed. Intake layer. */
#pragma once

#include "core/intake/decode-helper.h"
#include "core/intake/decoder.h"

G_BEGIN_DECLS

/* Reads one reply to 'request' from the socket, until 'deadline' (monotonic). A picture is within
 * what was asked for, its sizes and measures within what a picture can have, its codes printable.
 * NULL for none; *out_status then says why. *out_alive FALSE: the helper must not go on. Transfer
 * full. */
SwPicture *sw_decode_reply_take (int fd, const SwDecodeRequest *request, gint64 deadline,
                                 GCancellable *cancellable, SwDecodeStatus *out_status,
                                 gboolean *out_alive);

G_END_DECLS
