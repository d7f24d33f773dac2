/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/handout/target.h"

#include "core/base/path.h"

gboolean
sw_target_is_outside (const char *folder, const char *path, GError **error)
{
  return sw_path_check_outside (path, folder, error);
}
