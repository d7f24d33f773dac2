/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A row of SW_CLOCK_COLUMNS as a record. Private to cameras.c and photos.c. */
#pragma once

#include "core/catalogue/db.h"
#include "core/catalogue/photos.h"

G_BEGIN_DECLS

/* The current row, its columns from the first on. Holds no pointer. */
SwCameraClock sw_camera_clock_from_row (const SwUse *use);

G_END_DECLS
