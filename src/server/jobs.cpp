#include "server/jobs.h"

#include <algorithm>
#include <utility>

#include "api/small_json.h"
#include "server/uploads.h"

namespace rollwright::server {

struct Jobs::Job {
  unsigned long long number = 0;
  mutable std::mutex mutex;
  double fraction = 0.0;
  std::string doing = "starting";
  std::string newest_file, newest_name;  // that the operation put out so far
  bool is_done = false;
  api::Reply reply;
  std::unique_ptr<ops::Context> context;
  std::thread thread;
};

Jobs::Jobs(std::size_t most_running, std::size_t most_kept) : most_running_(most_running), most_kept_(most_kept) {}

Jobs::~Jobs() {
  for (auto& [id, job] : jobs_) job->context->progress.cancel();
  for (auto& [id, job] : jobs_) job->thread.join();
}

std::string Jobs::start(const ops::Operation& operation, std::string request_json, api::FileFinder files, const ops::Context& lent) {
  const std::lock_guard lock(mutex_);
  tidy();
  const auto running = std::count_if(jobs_.begin(), jobs_.end(), [](const auto& entry) {
    const std::lock_guard inner(entry.second->mutex);
    return !entry.second->is_done;
  });
  if (static_cast<std::size_t>(running) >= most_running_) return "";
  auto job = std::make_shared<Job>();
  job->number = ++started_;
  Job* raw = job.get();
  job->context.reset(new ops::Context{base::Progress([raw](double fraction, std::string_view doing) {
    const std::lock_guard inner(raw->mutex);
    raw->fraction = fraction;
    raw->doing = doing;
  }), lent.garage, {}, lent.now, lent.build});
  if (lent.outbox) {
    // What is put out on the way may be shown before the end: pictures of how the work stands.
    job->context->outbox = [raw, outbox = lent.outbox](const std::string& name, const auto& fill) {
      auto where = outbox(name, fill);
      if (where) {
        const std::lock_guard inner(raw->mutex);
        raw->newest_file = *where;
        raw->newest_name = name;
      }
      return where;
    };
  }
  job->thread = std::thread([raw, &operation, request = std::move(request_json), find = std::move(files)] {
    auto reply = api::ask(operation, request, *raw->context, find);
    const std::lock_guard inner(raw->mutex);
    raw->reply = std::move(reply);
    raw->is_done = true;
  });
  std::string id = random_id();
  jobs_.emplace(id, std::move(job));
  return id;
}

void Jobs::tidy() {
  while (jobs_.size() > most_kept_) {
    auto oldest = jobs_.end();
    for (auto it = jobs_.begin(); it != jobs_.end(); ++it) {
      const std::lock_guard inner(it->second->mutex);
      if (it->second->is_done && (oldest == jobs_.end() || it->second->number < oldest->second->number)) oldest = it;
    }
    if (oldest == jobs_.end()) return;
    oldest->second->thread.join();
    jobs_.erase(oldest);
  }
}

std::string Jobs::look(const std::string& id) const {
  std::shared_ptr<Job> job;
  {
    const std::lock_guard lock(mutex_);
    const auto found = jobs_.find(id);
    if (found == jobs_.end()) return "";
    job = found->second;
  }
  const std::lock_guard inner(job->mutex);
  if (!job->is_done) {
    if (job->newest_file.empty()) return api::small_object({{"state", "running"}, {"fraction", job->fraction}, {"doing", job->doing}});
    return api::small_object({{"state", "running"}, {"fraction", job->fraction}, {"doing", job->doing}, {"file", job->newest_file}, {"name", job->newest_name}});
  }
  const std::string state = job->context->progress.is_cancelled() ? "cancelled" : "done";
  std::string text = api::small_object({{"state", state}, {"fraction", 1.0}, {"doing", ""}, {"status", static_cast<double>(job->reply.status())}});
  text.pop_back();
  return text + ",\"answer\":" + job->reply.json + "}";
}

bool Jobs::any_running() const {
  const std::lock_guard lock(mutex_);
  return std::any_of(jobs_.begin(), jobs_.end(), [](const auto& entry) {
    const std::lock_guard inner(entry.second->mutex);
    return !entry.second->is_done;
  });
}

bool Jobs::cancel(const std::string& id) {
  const std::lock_guard lock(mutex_);
  const auto found = jobs_.find(id);
  if (found == jobs_.end()) return false;
  found->second->context->progress.cancel();
  return true;
}

}  // namespace rollwright::server
