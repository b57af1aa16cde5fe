// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/base/file_writer.h"

#include "core/base/files.h"

#include <cerrno>
#include <cstring>

#include <unistd.h>

namespace markerlamp::core {

Result<FileWriter> FileWriter::create(const std::filesystem::path& path) {
    if (auto made = createPrivateFile(path); !made) return fail(made.error());
    std::FILE* file = std::fopen(path.c_str(), "wbe");
    if (file == nullptr)
        return fail(ErrorKind::Machine, path.string() + " cannot be written: " + std::strerror(errno));
    return FileWriter(path, file);
}

Result<void> FileWriter::write(std::string_view bytes) {
    if (std::fwrite(bytes.data(), 1, bytes.size(), m_file.get()) != bytes.size()) return failed(errno);
    return {};
}

Result<void> FileWriter::finish() {
    if (std::fflush(m_file.get()) != 0 || ::fsync(::fileno(m_file.get())) != 0) return failed(errno);
    if (std::fclose(m_file.release()) != 0) return failed(errno);
    return {};
}

Result<void> FileWriter::failed(int code) const {
    return fail(ErrorKind::Machine, m_path.string() + " cannot be written: " + std::strerror(code));
}

}  // namespace markerlamp::core
