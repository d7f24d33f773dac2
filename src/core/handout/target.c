/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/handout/target.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/path.h"

gboolean
sw_target_is_outside (const char *folder, const char *path, GError **error)
{
  return sw_path_check_outside (path, folder, error);
}

gboolean
sw_target_stopped (GError **error)
{
  g_set_error_literal (error, SW_ERROR, SW_ERROR_CANCELLED, _ ("Stopped; nothing was written."));
  return FALSE;
}
