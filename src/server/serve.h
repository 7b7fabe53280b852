// serve: the workbench and every operation over HTTP, for a browser on this machine.
#pragma once

#include <string>
#include <vector>

namespace rollwright::server {

// rollwright serve [--port N] [--open]; returns the exit code when the server stops.
int serve(const std::vector<std::string>& arguments);

}  // namespace rollwright::server
