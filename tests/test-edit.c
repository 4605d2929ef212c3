/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "session/edit.h"

#include "demo.h"
#include "near.h"

/* Edits of several places that become one step, on the demo job: seven operations on one copy of
 * one part, five tools. */

typedef struct {
  LwDocument *document;
  char *before; /* the job as it was */
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  f->document = demo_open ();
  f->before = lw_job_to_text (lw_document_get_job (f->document));
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_assert_finalize_object (f->document);
  g_free (f->before);
}

static LwJob *
get_job (Fixture *f)
{
  return lw_document_get_job (f->document);
}

static void
commit (Fixture *f, LwEdit *edit)
{
  g_autoptr (GError) error = NULL;

  lw_edit_commit (edit, "Edit", NULL, &error);
  g_assert_no_error (error);
}

static void
assert_unchanged (Fixture *f)
{
  g_autofree char *now = lw_job_to_text (get_job (f));

  g_assert_cmpstr (now, ==, f->before);
}

/* One step back leads to the very job that was there. */
static void
undo (Fixture *f)
{
  lw_document_undo (f->document);
  assert_unchanged (f);
}

static int
find_operation (Fixture *f, const char *name)
{
  const LwSetup *setup = &get_job (f)->setups[0];

  for (int i = 0; i < setup->n_operations; i++)
    if (g_str_equal (setup->operations[i].name, name))
      return i;
  return -1;
}

/* ------------------------------------------------------------------------------------------------
 */

static void
test_names_are_followed (Fixture *f, gconstpointer data)
{
  LwEdit edit;
  const LwJob *job;

  lw_edit_begin (&edit, f->document);
  lw_edit_rename_part (&edit, 0, "trough");
  lw_edit_rename_placed (&edit, 0, 0, "trough-1");
  lw_edit_rename_operation (&edit, 0, find_operation (f, "Rough cavity"), "Rough it");
  lw_edit_rename_table (&edit, 0, "big");
  lw_edit_rename_body (&edit, 0, "column");
  lw_edit_renumber_tool (&edit, 1, 44);
  commit (f, &edit);

  job = get_job (f);
  g_assert_cmpstr (job->parts[0].id, ==, "trough");
  g_assert_cmpint (job->setups[0].placed[0].part, ==, 0);
  g_assert_cmpstr (job->setups[0].placed[0].id, ==, "trough-1");
  g_assert_cmpstr (job->machine->tables[job->setups[0].table].name, ==, "big");
  g_assert_cmpint (job->setups[0].n_operations, ==, 7);
  for (int i = 0; i < 7; i++)
    g_assert_cmpint (job->setups[0].operations[i].placed, ==, 0);
  g_assert_cmpstr (job->setups[0].operations[find_operation (f, "Finish cavity")].after[0], ==,
                   "Rough it");
  g_assert_cmpint (job->tools[job->setups[0].operations[1].tool].number, ==, 44);
  undo (f);
}

static void
test_removing_takes_along_what_leans_on_it (Fixture *f, gconstpointer data)
{
  g_autofree char *leaning = lw_edit_dup_dependents_of_tool (get_job (f), 1);
  LwEdit edit;

  g_assert_cmpstr (leaning, ==, "Rough cavity, Finish cavity, Overhanging wall");
  lw_edit_begin (&edit, f->document);
  lw_edit_remove_tool (&edit, 1);
  commit (f, &edit);
  g_assert_cmpint (get_job (f)->n_tools, ==, 4);
  g_assert_cmpint (get_job (f)->setups[0].n_operations, ==, 4);
  g_assert_cmpint (find_operation (f, "Rough cavity"), ==, -1);
  /* what came after the roughing comes after nothing now, and has its stock again */
  g_assert_null (get_job (f)->setups[0].operations[find_operation (f, "Trim far end")].after);
  g_assert_false (
      get_job (f)->setups[0].operations[find_operation (f, "Trim far end")].against_part);
  undo (f);

  lw_edit_begin (&edit, f->document);
  lw_edit_remove_part (&edit, 0);
  commit (f, &edit);
  g_assert_cmpint (get_job (f)->n_parts, ==, 0);
  g_assert_cmpint (get_job (f)->setups[0].n_placed, ==, 0);
  g_assert_cmpint (get_job (f)->setups[0].n_operations, ==, 0);
  undo (f);
}

static void
test_what_is_added_is_a_job (Fixture *f, gconstpointer data)
{
  LwEdit edit;
  int setup, block, tool;

  lw_edit_begin (&edit, f->document);
  block = lw_edit_add_block (&edit, lw_vec3 (1000, 500, 200));
  tool = lw_edit_add_tool (&edit);
  setup = lw_edit_add_setup (&edit);
  lw_edit_add_placed (&edit, setup, block);
  lw_edit_add_placed (&edit, setup, block);
  lw_edit_add_operation (&edit, setup);
  lw_edit_add_operation (&edit, setup);
  lw_edit_add_fixture (&edit, setup);
  lw_edit_add_fixture (&edit, setup);
  lw_edit_add_body (&edit);
  lw_edit_add_table (&edit);
  lw_edit_add_coupled (&edit);
  commit (f, &edit);
  g_assert_cmpint (get_job (f)->tools[tool].number, ==, 13); /* one above the demo's 12 */
  g_assert_cmpint (get_job (f)->setups[setup].n_placed, ==, 2);
  g_assert_cmpstr (get_job (f)->setups[setup].placed[1].id, ==, "block-2");
  g_assert_cmpstr (get_job (f)->setups[setup].fixtures[1].name, ==, "riser 2");
  undo (f);
}

static void
test_copies_get_names_of_their_own (Fixture *f, gconstpointer data)
{
  LwEdit edit;
  int copy;

  lw_edit_begin (&edit, f->document);
  copy = lw_edit_duplicate (&edit, "setups[0].placed", 0, "id");
  g_assert_cmpint (copy, ==, 1);
  copy = lw_edit_duplicate (&edit, "setups[0].operations", 2, "name");
  g_assert_cmpint (copy, ==, 3);
  copy = lw_edit_duplicate_tool (&edit, 0);
  commit (f, &edit);
  g_assert_cmpstr (get_job (f)->setups[0].placed[1].id, ==, "mold-2");
  g_assert_cmpstr (get_job (f)->setups[0].operations[3].name, ==, "Finish cavity 2");
  g_assert_cmpstr (get_job (f)->setups[0].operations[4].name, ==, "Overhanging wall");
  g_assert_cmpint (get_job (f)->tools[copy].number, ==, 13);
  g_assert_true (isnan (get_job (f)->tools[copy].measured)); /* nobody measured the copy */
  undo (f);
}

/* Four quarters about any axis lead back, and on the way the box keeps its lower corner and swaps
 * the lengths of the other two axes. */
static void
test_quarter_turns (Fixture *f, gconstpointer data)
{
  LwBox3 first = lw_placed_get_box (get_job (f), &get_job (f)->setups[0].placed[0]);
  LwVec3 size = lw_vec3_sub (first.high, first.low);

  for (int axis = 0; axis < 3; axis++) {
    for (int quarter = 1; quarter <= 4; quarter++) {
      LwEdit edit;
      LwBox3 box;

      lw_edit_begin (&edit, f->document);
      lw_edit_turn_placed (&edit, 0, 0, axis);
      commit (f, &edit);
      box = lw_placed_get_box (get_job (f), &get_job (f)->setups[0].placed[0]);
      for (int i = 0; i < 3; i++) {
        int from = quarter % 2 == 0 || i == axis ? i : 3 - axis - i;

        assert_near (lw_vec3_get (box.low, i), lw_vec3_get (first.low, i), 2e-6);
        assert_near (lw_vec3_get (box.high, i) - lw_vec3_get (box.low, i), lw_vec3_get (size, from),
                     1e-9);
      }
    }
    for (int quarter = 1; quarter <= 4; quarter++)
      lw_document_undo (f->document);
    assert_unchanged (f);
  }
}

/* A quarter about X takes Y to Z: right-handed. */
static void
test_turns_are_right_handed (Fixture *f, gconstpointer data)
{
  static const int next[] = { 1, 2, 0 };

  for (int axis = 0; axis < 3; axis++) {
    LwVec3 from = { 0 }, image;
    LwEdit edit;

    lw_vec3_set (&from, next[axis], 1);
    lw_edit_begin (&edit, f->document);
    lw_edit_turn_placed (&edit, 0, 0, axis);
    commit (f, &edit);
    image = lw_mat3_apply (get_job (f)->setups[0].placed[0].rotation, from);
    assert_near (lw_vec3_get (image, next[next[axis]]), 1, 0);
    undo (f);
  }
}

static void
test_segments_stay_in_line (Fixture *f, gconstpointer data)
{
  const LwTool *tool;
  LwEdit edit;

  lw_edit_begin (&edit, f->document);
  lw_edit_set_segment_length (&edit, 1, 1, 70.3); /* holder 42 … 110 of "Ball 16" */
  commit (f, &edit);
  tool = &get_job (f)->tools[1];
  assert_near (tool->segments[1].to, 112.3, 1e-9);
  assert_near (tool->tip_length, 182.3, 1e-9);
  assert_near (tool->stick_out, 70, 1e-9);
  g_assert_true (isnan (tool->measured));
  undo (f);

  lw_edit_begin (&edit, f->document);
  lw_edit_add_segment (&edit, 1, 1);
  lw_edit_remove_segment (&edit, 1, 3);
  lw_edit_add_segment (&edit, 1, lw_edit_count (&edit, "tools[1].segments"));
  commit (f, &edit);
  tool = &get_job (f)->tools[1];
  g_assert_cmpint (tool->n_segments, ==, 5);
  for (int i = 1; i < tool->n_segments; i++)
    assert_near (tool->segments[i].from, tool->segments[i - 1].to, 0);
  assert_near (tool->tip_length, tool->segments[4].to, 0);
  undo (f);

  lw_edit_begin (&edit, f->document);
  lw_edit_set_segment_kind (&edit, 1, 2, "holder");
  commit (f, &edit);
  assert_near (get_job (f)->tools[1].stick_out, 40, 1e-9); /* the shank was 30 of 70 */
  undo (f);
}

static void
test_what_is_no_job_changes_nothing (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  LwEdit edit;

  lw_edit_begin (&edit, f->document);
  lw_edit_set (&edit, lw_json_new_string ("by another name"), "parts[0].id");
  g_assert_false (lw_edit_commit (&edit, "Edit", NULL, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
  assert_unchanged (f);
  g_assert_null (lw_document_get_undo_name (f->document));
  g_clear_error (&error);

  lw_edit_begin (&edit, f->document);
  lw_edit_set (&edit, lw_json_new_number (1), "parts[7].id"); /* no such place */
  lw_edit_set (&edit, lw_json_new_string ("Other"), "title");
  g_assert_false (lw_edit_commit (&edit, "Edit", NULL, &error));
  g_assert_error (error, LW_ERROR, LW_ERROR_DATA);
  assert_unchanged (f);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, test) g_test_add ("/edit/" name, Fixture, NULL, set_up, test, tear_down)
  ADD ("names", test_names_are_followed);
  ADD ("removing", test_removing_takes_along_what_leans_on_it);
  ADD ("adding", test_what_is_added_is_a_job);
  ADD ("copies", test_copies_get_names_of_their_own);
  ADD ("quarter-turns", test_quarter_turns);
  ADD ("right-handed", test_turns_are_right_handed);
  ADD ("segments", test_segments_stay_in_line);
  ADD ("refused", test_what_is_no_job_changes_nothing);
  return g_test_run ();
}
