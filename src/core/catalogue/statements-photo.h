/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of the photo records: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_PHOTO_STATEMENTS(X)
