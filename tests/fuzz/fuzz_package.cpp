// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// libFuzzer target: packages. Even inputs are archives, sealed as cheaply as the seal allows and taken in;
// odd ones change bytes of a sealed package, whose check sum is made right again. Whatever the bytes, the
// answer comes, a refused package changes nothing, and a sealed file that was changed never opens.

#include "db/package/package.h"
#include "scratch.h"

#include <sodium.h>

using namespace markerlamp;

namespace {

constexpr std::string_view kPassphrase = "invented passphrase";
const db::SealCost kCheap{1, 8192};  // the least that libsodium takes
constexpr std::size_t kPasses = 12, kSalt = 24, kLength = 80, kSum = 88, kHeader = 104;

const fuzz::Scratch& scratch() {
    static const fuzz::Scratch folder;
    return folder;
}

/// Has taken whatever archives were taken so far.
db::ProgramFile& program() {
    static const std::unique_ptr<db::ProgramFile> file = [] {
        fuzz::makeProgram(scratch() / "p");
        return db::ProgramFile::open(scratch() / "p").value();
    }();
    return *file;
}

const std::string& sealed() {
    static const std::string bytes = [] {
        if (!db::writePackage(program(), scratch() / "sealed", kPassphrase, kCheap)) std::abort();
        return fuzz::bytesOf(scratch() / "sealed");
    }();
    return bytes;
}

void takeArchive(std::string_view archive) {
    const auto path = scratch() / "made";
    std::filesystem::remove(path);
    auto seal = db::SealWriter::create(path, kPassphrase, kCheap);
    if (!seal || !(*seal)->write(archive) || !(*seal)->finish()) std::abort();
    seal->reset();
    // Taken back, so that every input meets the same file.
    (void)program().transaction([&]() -> core::Result<void> {
        (void)db::readPackage(program(), path, kPassphrase);
        return core::fail(core::ErrorKind::Refused, "taken back");
    });
}

void openChanged(std::string_view input) {
    std::string bytes = sealed();
    if (input.front() == 1 && input.size() > 2)
        bytes.resize(static_cast<std::size_t>(static_cast<std::uint8_t>(input[1])) * bytes.size() / 256);
    bytes = bytes.empty() ? std::string(input) : fuzz::patched(std::move(bytes), input.substr(1));
    if (bytes.size() >= kHeader) {
        // What the work costs stays, or each input would take as long as the dearest allows.
        bytes.replace(kPasses, kSalt - kPasses, sealed(), kPasses, kSalt - kPasses);
        const std::uint64_t length = bytes.size();
        for (std::size_t i = 0; i < kSum - kLength; ++i)
            bytes[kLength + i] = static_cast<char>(length >> (8 * i));
        crypto_generichash(reinterpret_cast<unsigned char*>(bytes.data() + kSum), kHeader - kSum,
                           reinterpret_cast<const unsigned char*>(bytes.data()), kSum, nullptr, 0);
    }
    const auto path = scratch() / "changed";
    fuzz::write(path, bytes);
    const bool took = db::readPackage(program(), path, kPassphrase).has_value();
    if (took != (bytes == sealed())) std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view input(reinterpret_cast<const char*>(data), size);
    if (input.empty()) return 0;
    (void)sealed();
    if (data[0] % 2 == 0)
        takeArchive(input.substr(1));
    else
        openChanged(input);
    return 0;
}
