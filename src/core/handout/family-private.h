/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Between the files of the family choice. */
#pragma once

#include "core/handout/family.h"

G_BEGIN_DECLS

/* A picture as it leaves: JPEG without metadata. */
typedef struct
{
  GBytes *jpeg;
  guint width, height;
} SwFamilyPicture;

/* Pictures of each item in its order: GPtrArray of GPtrArray of SwFamilyPicture. */
GBytes *sw_family_html (const SwFamilyChoice *choice, const GPtrArray *pictures);
GBytes *sw_family_paper (const SwFamilyChoice *choice, const GPtrArray *pictures, int *out_pages,
                         GError **error);

G_END_DECLS
