/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All statements of the catalogue, collected from the tables of the record files. Private to
 * core/catalogue. A row is X (TAG, "SQL"); the tag becomes SW_STMT_TAG. A new records file adds its
 * table here, one line. */
#pragma once

#include "core/catalogue/statements-act.h"
#include "core/catalogue/statements-answer.h"
#include "core/catalogue/statements-arrival.h"
#include "core/catalogue/statements-cards.h"
#include "core/catalogue/statements-check.h"
#include "core/catalogue/statements-enquiry.h"
#include "core/catalogue/statements-ground.h"
#include "core/catalogue/statements-item.h"
#include "core/catalogue/statements-limit.h"
#include "core/catalogue/statements-look.h"
#include "core/catalogue/statements-match.h"
#include "core/catalogue/statements-money.h"
#include "core/catalogue/statements-offer.h"
#include "core/catalogue/statements-photo.h"
#include "core/catalogue/statements-place.h"
#include "core/catalogue/statements-receipt.h"
#include "core/catalogue/statements-record.h"
#include "core/catalogue/statements-decide.h"
#include "core/catalogue/statements-said.h"
#include "core/catalogue/statements-setting.h"
#include "core/catalogue/statements-share.h"
#include "core/catalogue/statements-site.h"
#include "core/catalogue/statements-ticks.h"
#include "core/catalogue/statements-trip.h"
#include "core/catalogue/statements-van.h"
#include "core/catalogue/statements-yard.h"

#define SW_STATEMENTS(X)                                                                           \
  SW_ACT_STATEMENTS (X)                                                                            \
  SW_ANSWER_STATEMENTS (X)                                                                         \
  SW_ARRIVAL_STATEMENTS (X)                                                                        \
  SW_CARDS_STATEMENTS (X)                                                                          \
  SW_CHECK_STATEMENTS (X)                                                                          \
  SW_ENQUIRY_STATEMENTS (X)                                                                        \
  SW_GROUND_STATEMENTS (X)                                                                         \
  SW_ITEM_STATEMENTS (X)                                                                           \
  SW_LIMIT_STATEMENTS (X)                                                                          \
  SW_LOOK_STATEMENTS (X)                                                                           \
  SW_MATCH_STATEMENTS (X)                                                                          \
  SW_MONEY_STATEMENTS (X)                                                                          \
  SW_OFFER_STATEMENTS (X)                                                                          \
  SW_PHOTO_STATEMENTS (X)                                                                          \
  SW_PLACE_STATEMENTS (X)                                                                          \
  SW_RECEIPT_STATEMENTS (X)                                                                        \
  SW_RECORD_STATEMENTS (X)                                                                         \
  SW_DECIDE_STATEMENTS (X)                                                                         \
  SW_SAID_STATEMENTS (X)                                                                           \
  SW_SETTING_STATEMENTS (X)                                                                        \
  SW_SHARE_STATEMENTS (X)                                                                          \
  SW_SITE_STATEMENTS (X)                                                                           \
  SW_TICKS_STATEMENTS (X)                                                                          \
  SW_TRIP_STATEMENTS (X)                                                                           \
  SW_VAN_STATEMENTS (X)                                                                            \
  SW_YARD_STATEMENTS (X)

#define SW_STATEMENT_AS_ENUM(tag, sql) SW_STMT_##tag,
typedef enum
{
  SW_STATEMENTS (SW_STATEMENT_AS_ENUM) SW_N_STATEMENTS
} SwStatementId;
