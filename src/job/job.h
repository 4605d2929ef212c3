/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "files/meshstore.h"
#include "job/operation.h"
#include "machine/travel.h"
#include "tool/tool.h"

/* A hole in a part that a bolt goes through. Part frame. */
typedef struct {
  LwVec3 at; /* mm */
  char *thread;
} LwBolt;

typedef struct {
  char *id;
  char *mesh_file;  /* as in the job, relative to its folder; NULL for a block */
  char *mesh_units; /* "mm", "in", …; NULL when not given: not checked */
  char *sha256, *material;
  double density; /* kg/m³, NAN when not given */
  bool is_block;
  LwVec3 block;        /* mm */
  double walls, depth; /* of a block's pocket, mm, NAN when not given */
  LwBolt *bolts;
  int n_bolts;
  LwMeshEntry mesh; /* a block has one made of 12 triangles, 28 with a pocket; its sha256 is that of
                       the block's numbers */
  JsonNode *node;   /* where it was read from; borrowed from the job's tree */
} LwPart;

/* One copy of a part on the table: table = turn · part + at. */
typedef struct {
  char *id;
  int part;         /* index into the job's parts */
  LwMat3 rotation;  /* Rset */
  double yaw;       /* rad */
  LwMat3 turn;      /* Rz(yaw) · Rset */
  LwVec3 at;        /* mm, table frame */
  double tolerance; /* mm */
  bool has_stock;
  LwVec3 stock_size, stock_at; /* mm, part frame */
} LwPlaced;

typedef struct {
  char *name;
  LwZone zone;
  double may_be_cut; /* mm */
  double tolerance;  /* mm */
  LwSolid solid;     /* table frame */
} LwFixture;

typedef struct {
  bool exists;
  char *name, *datum;
  LwVec3 machine; /* mm */
  double c, tilt; /* rad */
} LwWorkOffset;

typedef struct {
  char *name;
  int table;             /* index into the machine's tables */
  double *riser_heights; /* mm */
  int n_riser_heights;
  LwPlaced *placed;
  int n_placed;
  LwFixture *fixtures;
  int n_fixtures;
  LwWorkOffset work_offset;
  LwOperation *operations;
  int n_operations;
} LwSetup;

/* A job: immutable and reference-counted, safe to hand to a thread. Its truth is the JSON tree as
 * the file has it (node); the rest is that tree read strictly. An edit changes a copy of the tree
 * and reads it again, so every way into a job passes the same checks, x- keys ride along, and
 * meshes are shared through the store. */
typedef struct {
  int ref_count;
  JsonNode *node;
  LwMeshStore *store;
  char *name;   /* stands for the file in messages */
  char *folder; /* where its relative file names begin */
  char *title;
  LwMachine *machine;
  LwPart *parts;
  int n_parts;
  LwSetup *setups;
  int n_setups;
  LwTool *tools;
  int n_tools;
  LwReserves reserves;
} LwJob;

#define LW_JOB_VERSION 1

/* Reads a job's tree. name stands for the file in messages. wait: read meshes now, else they may
 * come out LW_MESH_LOADING. NULL with LW_ERROR_DATA; a missing or altered mesh is no error. */
LwJob *lw_job_read (const char *name, const char *folder, JsonNode *node, LwMeshStore *store,
                    bool wait, LwProgress *progress, GError **error);
LwJob *lw_job_load (const char *path, LwMeshStore *store, bool wait, LwProgress *progress,
                    GError **error);
LwJob *lw_job_ref (LwJob *job);
void lw_job_unref (LwJob *job);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LwJob, lw_job_unref)

/* The job with the value at path (base/json.h) set, or removed for NULL. value is taken. NULL with
 * an error that names the key when the result is no job; the old one is as it was. */
LwJob *lw_job_with (const LwJob *job, const char *path, JsonNode *value, GError **error);
/* The job with another tree in the old one's place: several edits at once. node is not taken. */
LwJob *lw_job_with_node (const LwJob *job, JsonNode *node, GError **error);
/* The same job with its meshes and programs as their files are now: those loading are read
 * (blocking), those whose file changed, went or came back are looked at again. A reference when
 * nothing differs. */
LwJob *lw_job_with_meshes (LwJob *job, LwProgress *progress);
/* As above without reading: takes what the store has by now. */
LwJob *lw_job_with_meshes_at_hand (LwJob *job);
/* Whether any mesh or program is still being read. */
bool lw_job_is_loading (const LwJob *job);
/* The same job for another file: every relative file name in it is rewritten so that it leads where
 * it led before. A reference when the folder is the same. */
LwJob *lw_job_with_file (LwJob *job, const char *path, GError **error);
/* The job on another machine (compare, check --machine). Table names the new machine does not have
 * are an error. */
LwJob *lw_job_with_machine (const LwJob *job, const LwMachine *machine, GError **error);

/* A first job from a machine and a part file: part named after the file, centered on the first
 * table on the lowest z, one set-up, no tools yet. mesh_path is absolute; folder where the job will
 * live (file names are made relative to it where that can be). */
LwJob *lw_job_new (const LwMachine *machine, const char *mesh_path, const char *units,
                   const char *folder, LwMeshStore *store, LwProgress *progress, GError **error);

char *lw_job_to_text (const LwJob *job);
bool lw_job_save (const LwJob *job, const char *path, GError **error);

const LwSetup *lw_job_find_setup (const LwJob *job, const char *name);
/* -1 when there is none of that number. */
int lw_job_find_tool (const LwJob *job, int number);

/* Box of a placed part on its table; empty when its mesh is not there. */
LwBox3 lw_placed_get_box (const LwJob *job, const LwPlaced *placed);
LwVec3 lw_placed_to_table (const LwPlaced *placed, LwVec3 part_point);
LwVec3 lw_placed_to_part (const LwPlaced *placed, LwVec3 table_point);
