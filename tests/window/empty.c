/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A window with nothing in it but room to scroll over: what a frame costs GTK by itself. */
#include <gtk/gtk.h>

static void
on_activate (GtkApplication *app)
{
  GtkWidget *window = gtk_application_window_new (app);
  GtkWidget *header = gtk_header_bar_new ();
  GtkWidget *scrolled = gtk_scrolled_window_new (NULL, NULL);
  GtkWidget *layout = gtk_layout_new (NULL, NULL);

  gtk_window_set_title (GTK_WINDOW (window), "Empty");
  gtk_header_bar_set_title (GTK_HEADER_BAR (header), "Empty");
  gtk_header_bar_set_show_close_button (GTK_HEADER_BAR (header), TRUE);
  gtk_window_set_titlebar (GTK_WINDOW (window), header);
  gtk_window_set_default_size (GTK_WINDOW (window), 1180, 760);
  gtk_layout_set_size (GTK_LAYOUT (layout), 100, 200000);
  gtk_scrolled_window_set_overlay_scrolling (GTK_SCROLLED_WINDOW (scrolled), FALSE);
  gtk_container_add (GTK_CONTAINER (scrolled), layout);
  gtk_container_add (GTK_CONTAINER (window), scrolled);
  gtk_widget_show_all (window);
}

int
main (int argc, char **argv)
{
  g_autoptr (GtkApplication) app
      = gtk_application_new ("org.shedwalk.Empty", G_APPLICATION_DEFAULT_FLAGS);

  g_signal_connect (app, "activate", G_CALLBACK (on_activate), NULL);
  return g_application_run (G_APPLICATION (app), argc, argv);
}
