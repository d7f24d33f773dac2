/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of the act records: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_ACT_STATEMENTS(X)
