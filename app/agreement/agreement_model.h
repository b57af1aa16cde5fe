#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the Agreement page knows and decides, without a window: the pair in front, what was chosen for each
// difference, names or none.

#include "app/agreement/agreement_reader.h"
#include "core/agreement/scoring_pair.h"

#include <QObject>
#include <QString>

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>

namespace markerlamp::app {

/// Names of people by key.
struct AgreementNames {
    std::map<std::string, QString> instructors, trainees;
};

class AgreementModel final : public QObject {
    Q_OBJECT

public:
    using QObject::QObject;

    /// Stores what was chosen for a pair and is not settled yet; nothing: takes it away.
    using Keeper = std::function<core::Result<void>(const std::string& first, const std::string& second,
                                                    const core::Choices& choices)>;
    /// From then on every choice is kept when it is made.
    void setKeeper(Keeper keeper) { m_keeper = std::move(keeper); }
    /// Keeps the pair in front and what was chosen, as far as they are still there; what was chosen before
    /// this model was made is taken up from what the file kept.
    void setAgreement(std::shared_ptr<const ProgramAgreement> agreement, AgreementNames names);
    void setFunnel(core::StrictnessFunnel funnel);
    [[nodiscard]] const ProgramAgreement* agreement() const { return m_agreement.get(); }
    [[nodiscard]] const std::optional<core::StrictnessFunnel>& funnel() const { return m_funnel; }

    [[nodiscard]] int pairs() const;
    [[nodiscard]] int current() const { return m_current; }
    void setCurrent(int pair);
    [[nodiscard]] const PairOnFile* pair() const;  ///< nullptr while there is none
    [[nodiscard]] const core::ScoringPair& compared() const { return m_compared; }
    /// Counts and coefficients of the pair in front.
    [[nodiscard]] const core::Agreement& shown() const { return m_shown; }
    [[nodiscard]] const core::Agreement& said() const { return m_said; }

    [[nodiscard]] core::Settling settling(const std::string& step) const;
    void choose(const std::string& step, core::Choice choice);
    void chooseOther(const std::string& step, const core::OtherMarks& marks);
    void setReason(const std::string& step, const QString& reason);
    [[nodiscard]] int open() const;  ///< differences that are not settled
    /// Something differs from what is on file.
    [[nodiscard]] bool changed() const;
    /// The attempt and the record of what was chosen; refused while nothing was.
    [[nodiscard]] core::Result<std::pair<core::Attempt, core::Settlement>> settle(
        const std::string& by, const std::string& at) const;

    void setNamesHidden(bool hidden);
    [[nodiscard]] bool namesHidden() const { return m_hidden; }
    /// Whole name, or "instructor A" while names are hidden.
    [[nodiscard]] QString instructor(const std::string& key) const;
    /// One to three letters that stand beside lamps and dots.
    [[nodiscard]] QString letters(const std::string& key) const;
    [[nodiscard]] QString trainee(const std::string& key) const;
    /// Letters of the two in front, told apart even where the letters are the same.
    [[nodiscard]] QString firstMark() const;
    [[nodiscard]] QString secondMark() const;
    [[nodiscard]] QString pairTitle(int pair) const;  ///< "3 Mar 2025, Trainee E, KTRWMB"

signals:
    /// Another pair is in front, or all of it is new.
    void reset();
    void chosen(QString step);
    /// What was chosen has been kept (no problem), or could not be.
    void kept(QString problem);
    void funnelChanged();
    void namesChanged();

private:
    using Key = std::pair<std::string, std::string>;
    [[nodiscard]] Key keyOf(const PairOnFile& pair) const;
    void compare();
    [[nodiscard]] core::Choices onFile(const PairOnFile& pair) const;
    [[nodiscard]] core::Choices* draft();
    void keep();
    /// An amendment may have brought the two together on a step.
    void dropWhatIsAlike(core::Choices& choices) const;

    std::shared_ptr<const ProgramAgreement> m_agreement;
    std::optional<core::StrictnessFunnel> m_funnel;
    AgreementNames m_names;
    std::map<std::string, QString> m_anonymous;  ///< letters by key, in the order of the keys
    int m_current = -1;
    core::ScoringPair m_compared;
    core::Agreement m_shown, m_said;
    std::map<Key, core::Choices> m_drafts;  ///< of the pairs that were in front
    Keeper m_keeper;
    bool m_hidden = false;
};

}  // namespace markerlamp::app
