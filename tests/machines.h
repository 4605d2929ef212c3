/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <glib.h>

#include "machine/travel.h"

/* The tree of a machine of data/machines. */
static inline JsonNode *
test_machine_tree (const char *id)
{
  g_autofree char *name = g_strconcat (id, ".leeway-machine", NULL);
  g_autofree char *path = g_build_filename (g_getenv ("LEEWAY_DATA_DIR"), "machines", name, NULL);
  g_autoptr (GError) error = NULL;
  JsonNode *node = lw_json_load (path, &error);

  g_assert_no_error (error);
  return node;
}

/* A copy of a tree with the JSON text value at path; NULL takes what is there away. */
static inline JsonNode *
test_tree_with (JsonNode *tree, const char *path, const char *value)
{
  g_autoptr (GError) error = NULL;
  JsonNode *node = NULL, *edited;

  if (value) {
    g_autofree char *text = g_strconcat ("{\"v\": ", value, "}", NULL);
    g_autoptr (JsonNode) root = lw_json_parse ("value", text, strlen (text), &error);

    g_assert_no_error (error);
    node = json_node_copy (lw_json_get (root, "v"));
  }
  edited = lw_json_with (tree, path, node, &error);
  g_assert_no_error (error);
  return edited;
}

static inline LwMachine *
test_read_tree (JsonNode *tree, GError **error)
{
  LwIn *in = lw_in_new ("m.leeway-machine", "", tree);
  LwMachine *machine = lw_machine_read (in, tree);

  if (!lw_in_finish (in, error))
    g_clear_pointer (&machine, lw_machine_unref);
  return machine;
}

/* A machine of data/machines with edits: path, value, path, value, …, NULL. */
static inline LwMachine *
test_machine_with (const char *id, const char *const *edits)
{
  g_autoptr (JsonNode) tree = test_machine_tree (id);
  g_autoptr (GError) error = NULL;
  LwMachine *machine;

  for (; edits && edits[0]; edits += 2) {
    JsonNode *edited = test_tree_with (tree, edits[0], edits[1]);

    json_node_unref (tree);
    tree = edited;
  }
  machine = test_read_tree (tree, &error);
  g_assert_no_error (error);
  g_assert (machine != NULL); /* and the analyzer sees it */
  return machine;
}

static inline LwMachine *
test_machine (const char *id)
{
  return test_machine_with (id, NULL);
}
