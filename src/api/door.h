// What the doors have in common beside asking: the clock, the notebook's usual place, and where files go.
#pragma once

#include <string>

#include "api/ask.h"
#include "ops/context.h"

namespace rollwright::api {

// The moment in UTC, "2026-05-01T18:30:00Z".
std::string now_text();

// rollwright.garage in the current folder when it is there; else rollwright/rollwright.garage in the person's data folder
// ($XDG_DATA_HOME, usually ~/.local/share) when it is there. When neither is: the first for the command line, so that a
// notebook is made where one works; the second for the workbench (`in_data_folder`), whose folder is made.
std::string usual_notebook(bool in_data_folder);

// Files of answers go into this folder, which is made when needed. A file of the same name is not overwritten: the new
// one gets a number.
ops::Outbox folder_outbox(std::string folder);

// Keeps an answer in the notebook, and says so in a problem when that fails.
base::Outcome<std::string> keep(const ops::Operation& operation, const std::string& request_json, const Reply& reply, const ops::Context& context);

}  // namespace rollwright::api
