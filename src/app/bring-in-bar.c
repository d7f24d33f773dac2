/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shows one bring-in after the other and the look at the photos that follows it. The jobs do the
 * work. */
#include "app/bring-in-bar.h"

#include "app/bring-in-job.h"
#include "app/look-job.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/base/text.h"

/* Lines of remarks and refusals shown at most; the rest are counted. */
#define MOST_LINES 200

struct _SwBringInBar
{
  GtkBox parent;
  SwStore *store;
  SwBringInJob *job;
  SwLookJob *look;
  GtkWidget *stack, *text, *progress, *cancel;
  GtkWidget *counts, *verdict, *verdict_icon, *details, *lines, *details_label;
};

enum
{
  RUNNING,
  CAME,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwBringInBar, sw_bring_in_bar, GTK_TYPE_BOX)

/* ---- progress ---- */

static void
show_progress (SwBringInBar *self, SwLongJob *job)
{
  g_autofree char *text = sw_long_job_text (job);
  double fraction = sw_long_job_fraction (job);

  gtk_label_set_text (GTK_LABEL (self->text), text);
  if (fraction < 0)
    gtk_progress_bar_pulse (GTK_PROGRESS_BAR (self->progress));
  else
    gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress), fraction);
}

/* Shows the job from now on; done is called at its end. */
static void
begin (SwBringInBar *self, SwLongJob *job, GCallback done)
{
  g_signal_connect_object (job, "progress", G_CALLBACK (show_progress), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (job, "done", done, self, G_CONNECT_SWAPPED);
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress), 0);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "running");
  gtk_widget_set_sensitive (self->cancel, TRUE);
  gtk_widget_show (GTK_WIDGET (self));
  g_signal_emit (self, signals[RUNNING], 0, TRUE);
  show_progress (self, job);
}

static void
on_look_done (SwBringInBar *self)
{
  gboolean has_report = self->job != NULL;

  g_clear_object (&self->look);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "report");
  gtk_widget_set_visible (GTK_WIDGET (self), has_report);
  g_signal_emit (self, signals[RUNNING], 0, FALSE);
}

static void
start_look (SwBringInBar *self, gint64 trip)
{
  self->look = sw_look_job_new (self->store, trip);
  begin (self, SW_LONG_JOB (self->look), G_CALLBACK (on_look_done));
}

/* ---- what happened ---- */

static void
add_line (SwBringInBar *self, const char *file, const char *text)
{
  g_autofree char *name = sw_text_printable (file, -1);
  g_autofree char *line = g_strdup_printf ("%s: %s", name, text);

  sw_container_add_line (self->lines, line, NULL);
}

static guint
add_remarks (SwBringInBar *self, const GPtrArray *remarks, const char *prefix)
{
  for (guint i = 0; i < remarks->len && i < MOST_LINES; i++)
    {
      const SwBringInRemark *remark = g_ptr_array_index (remarks, i);
      g_autofree char *text = g_strconcat (prefix, remark->remark, NULL);
      add_line (self, remark->file, text);
    }
  return remarks->len;
}

static void
fill_details (SwBringInBar *self, const SwBringInReport *report)
{
  g_autofree char *text = NULL;
  guint n;

  sw_container_empty (self->lines);
  n = add_remarks (self, report->refused, _ ("refused: "));
  n += add_remarks (self, report->remarked, "");
  for (guint i = 0; i < report->look_alikes->len && i < MOST_LINES; i++)
    {
      const SwBringInPair *pair = g_ptr_array_index (report->look_alikes, i);
      g_autofree char *other = sw_text_printable (pair->b, -1);
      g_autofree char *line = g_strdup_printf (_ ("looks the same as %s"), other);
      add_line (self, pair->a, line);
      n++;
    }
  text = sw_text_count (n, "%d remark", "%d remarks");
  gtk_label_set_text (GTK_LABEL (self->details_label), text);
  gtk_widget_set_visible (self->details, n > 0);
  gtk_expander_set_expanded (GTK_EXPANDER (self->details), report->refused->len > 0);
}

/* ", 3 clips, raw files or memos"; nothing for none. */
static void
append_count (GString *text, gint64 n, char *count)
{
  if (n > 0)
    g_string_append_printf (text, ", %s", count);
  g_free (count);
}

static char *
counts_text (const SwBringInReport *report)
{
  GString *text = g_string_new (NULL);
  g_autofree char *taken = sw_text_count (report->taken, "%d photo taken", "%d photos taken");

  g_string_append (text, taken);
  if (report->has_days)
    {
      g_autofree char *days = sw_text_days (report->first_day, report->last_day);
      g_string_append_printf (text, _ (" of %s"), days);
    }
  append_count (text, report->already_there,
                sw_text_count (report->already_there, "%d there already", "%d there already"));
  append_count (text, report->companions,
                sw_text_count (report->companions, "%d clip, raw file or memo",
                               "%d clips, raw files or memos"));
  append_count (text, report->not_photos,
                sw_text_count (report->not_photos, "%d other file left", "%d other files left"));
  append_count (text, report->refused->len,
                sw_text_count (report->refused->len, "%d refused", "%d refused"));
  return g_string_free (text, FALSE);
}

static void
show_report (SwBringInBar *self)
{
  const SwBringInReport *report = sw_bring_in_job_report (self->job);
  const char *problem = sw_long_job_problem (SW_LONG_JOB (self->job));
  g_autofree char *counts = counts_text (report);
  GtkStyleContext *style = gtk_widget_get_style_context (self->verdict);
  const char *verdict = report->card_may_be_cleared ? _ ("The memory card may be cleared now.")
                        : problem != NULL           ? problem
                        : report->why_not != NULL   ? report->why_not
                                                    : _ ("Keep the memory card as it is.");

  gtk_label_set_text (GTK_LABEL (self->counts), counts);
  gtk_label_set_text (GTK_LABEL (self->verdict), verdict);
  gtk_image_set_from_icon_name (GTK_IMAGE (self->verdict_icon),
                                report->card_may_be_cleared ? "sw-sure-symbolic"
                                                            : "dialog-warning-symbolic",
                                GTK_ICON_SIZE_BUTTON);
  if (report->card_may_be_cleared)
    gtk_style_context_add_class (style, "sw-safe");
  else
    gtk_style_context_remove_class (style, "sw-safe");
  fill_details (self, report);
  sw_store_tell (self->store, verdict, !report->card_may_be_cleared);
}

/* The trip whose days hold it; 0: none. */
static gint64
trip_with (SwBringInBar *self, SwDay day)
{
  gint64 number = sw_trip_period (sw_store_overview (self->store)->trips, day);
  const SwTrip *trip = sw_store_trip (self->store, number);

  return trip != NULL && day.n <= trip->last.n ? number : 0;
}

static void
on_job_done (SwBringInBar *self)
{
  const SwBringInReport *report = sw_bring_in_job_report (self->job);
  gint64 trip = 0;

  show_report (self);
  if (report->has_days && (trip = trip_with (self, report->last_day)) == 0)
    trip = trip_with (self, report->first_day);
  if (trip != 0)
    g_signal_emit (self, signals[CAME], 0, trip);
  start_look (self, 0);
}

/* ---- what the person does ---- */

static void
on_cancel (SwBringInBar *self)
{
  gtk_widget_set_sensitive (self->cancel, FALSE);
  if (self->look != NULL)
    sw_long_job_cancel (SW_LONG_JOB (self->look));
  else if (self->job != NULL)
    sw_long_job_cancel (SW_LONG_JOB (self->job));
}

static void
on_dismiss (SwBringInBar *self)
{
  gtk_widget_hide (GTK_WIDGET (self));
}

/* ---- object ---- */

static void
sw_bring_in_bar_dispose (GObject *object)
{
  SwBringInBar *self = SW_BRING_IN_BAR (object);

  if (self->job != NULL)
    sw_long_job_cancel (SW_LONG_JOB (self->job));
  if (self->look != NULL)
    sw_long_job_cancel (SW_LONG_JOB (self->look));
  g_clear_object (&self->job);
  g_clear_object (&self->look);
  g_clear_object (&self->store);
  G_OBJECT_CLASS (sw_bring_in_bar_parent_class)->dispose (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwBringInBar, name)

static void
sw_bring_in_bar_class_init (SwBringInBarClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_bring_in_bar_dispose;
  signals[RUNNING] = g_signal_new ("running", SW_TYPE_BRING_IN_BAR, G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 1, G_TYPE_BOOLEAN);
  signals[CAME] = g_signal_new ("came", SW_TYPE_BRING_IN_BAR, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/bring-in-bar.ui");
  BIND (stack);
  BIND (text);
  BIND (progress);
  BIND (cancel);
  BIND (counts);
  BIND (verdict);
  BIND (verdict_icon);
  BIND (details);
  BIND (details_label);
  BIND (lines);
  gtk_widget_class_bind_template_callback (widget, on_cancel);
  gtk_widget_class_bind_template_callback (widget, on_dismiss);
}

static void
sw_bring_in_bar_init (SwBringInBar *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
sw_bring_in_bar_set_store (SwBringInBar *self, SwStore *store)
{
  g_set_object (&self->store, store);
}

void
sw_bring_in_bar_start (SwBringInBar *self, const char *const *folders)
{
  if (sw_bring_in_bar_is_running (self))
    {
      sw_store_tell (self->store, _ ("Photos are coming in already; wait until they are there."),
                     TRUE);
      return;
    }
  g_clear_object (&self->job);
  self->job = sw_bring_in_job_new (self->store, folders);
  begin (self, SW_LONG_JOB (self->job), G_CALLBACK (on_job_done));
}

void
sw_bring_in_bar_propose (SwBringInBar *self, gint64 trip)
{
  if (sw_bring_in_bar_is_running (self))
    return;
  g_clear_object (&self->job);
  start_look (self, trip);
}

gboolean
sw_bring_in_bar_is_running (SwBringInBar *self)
{
  return self->look != NULL || (self->job != NULL && sw_bring_in_job_report (self->job) == NULL);
}
