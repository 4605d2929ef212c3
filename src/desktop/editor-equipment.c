/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include <glib/gi18n.h>

#include "desktop/editors.h"

#define UNIT_WIDTH 28

static void
build_spindle (LwForm *form, const LwJob *job)
{
  JsonNode *curve = lw_json_get (job->node, "machine.spindle.curve");
  int n = curve != NULL && JSON_NODE_HOLDS_ARRAY (curve)
              ? (int)json_array_get_length (json_node_get_array (curve))
              : 0;
  const char *absent = _ ("not given");

  lw_form_section (form, _ ("Spindle"));
  lw_form_text (form, _ ("Tool interface"), "spindle.interface")->absent = absent;
  lw_form_number (form, _ ("Highest speed"), _ ("rpm"), "spindle.max_rpm")->absent = absent;
  lw_form_number (form, _ ("S6 duty"), "%", "spindle.s6_duty_percent")->absent = absent;
  if (n > 0)
    lw_form_note (form, _ ("Power at speed: continuous (S1), with pauses (S6)"));
  for (int i = 0; i < n; i++) {
    LwField *field = lw_form_number (form, _ ("Speed"), _ ("rpm"), "spindle.curve[%d].rpm", i);

    lw_field_make_cell (field, true, 0);
    lw_field_make_cell (lw_form_note (form, _ ("rpm")), false, UNIT_WIDTH);
    field = lw_form_number (form, _ ("Power S1"), "kW", "spindle.curve[%d].s1_kw", i);
    lw_field_make_cell (field, false, 0);
    field = lw_form_number (form, _ ("Power S6"), "kW", "spindle.curve[%d].s6_kw", i);
    lw_field_make_cell (field, false, 0)->absent = "–";
    lw_field_make_cell (lw_form_note (form, "kW"), false, UNIT_WIDTH);
  }
}

static void
build_magazine (LwForm *form)
{
  const char *absent = _ ("not given");
  LwField *field;

  lw_form_section (form, _ ("Tool magazine"));
  field = lw_form_number (form, _ ("Pockets"), "", "magazine.pockets");
  field->whole = true;
  field->absent = absent;
  lw_form_length (form, _ ("Longest tool"), "magazine.max_length_mm")->absent = absent;
  lw_form_length (form, _ ("Widest tool"), "magazine.max_diameter_mm")->absent = absent;
  lw_form_number (form, _ ("Heaviest tool"), "kg", "magazine.max_mass_kg")->absent = absent;
}

static void
build_zones (LwForm *form)
{
  static const char *const words[] = { "", "axes", "tip", "tool", "head", NULL };
  static const char *const labels[] = { N_ ("Not known"),      N_ ("Axis positions only"),
                                        N_ ("The tool's tip"), N_ ("The whole tool"),
                                        N_ ("Tool and head"),  NULL };

  lw_form_section (form, _ ("Zones of the control"));
  lw_form_choice (form, _ ("They act on"), words, labels, "zones.act_on");
  lw_form_length (form, _ ("Margin"), "zones.margin_mm")->absent = _ ("not given");
}

void
lw_edit_equipment_build (LwForm *form, const LwJob *job, LwSubject subject)
{
  build_spindle (form, job);
  build_magazine (form);
  build_zones (form);
}
