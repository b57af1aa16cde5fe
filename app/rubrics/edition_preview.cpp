// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/edition_preview.h"

#include "app/scoring/event_sink.h"
#include "app/scoring/scoring_page.h"
#include "app/support/display.h"
#include "app/support/small_screens.h"
#include "app/support/table_view.h"

#include <QDialogButtonBox>
#include <QPushButton>
#include <QUuid>
#include <QVBoxLayout>

namespace markerlamp::app {

namespace {

/// Takes every press and keeps none.
class ForgettingSink final : public EventSink {
public:
    using EventSink::EventSink;
    quint64 startAttempt(const core::AttemptHeader&) override { return next(); }
    quint64 append(const QString&, std::vector<core::Event>) override { return next(); }

private:
    quint64 next() {
        const quint64 ticket = ++m_ticket;
        // After the page has noted the ticket, as the writer would.
        QMetaObject::invokeMethod(
            this, [this, ticket] { emit stored(ticket); }, Qt::QueuedConnection);
        return ticket;
    }
    quint64 m_ticket = 0;
};

core::AttemptHeader previewHeader(const core::Rubric& rubric) {
    core::AttemptHeader header;
    header.id = ss(QUuid::createUuid().toString(QUuid::WithoutBraces));
    header.rubric = rubric.id;
    header.edition = rubric.edition;
    header.trainee = ss(ScoringPreview::tr("preview"));
    header.instructor = header.trainee;
    header.bus = header.trainee;
    for (const auto& [tag, title] : rubric.equipment) header.equipment.push_back(tag);
    for (const core::Zone& zone : rubric.zones) header.zones.push_back(zone.id);
    header.started = nowIso();
    return header;
}

}  // namespace

ScoringPreview::ScoringPreview(Theme& theme, Settings& settings, std::shared_ptr<const core::Rubric> draft,
                               QWidget* parent)
    : QDialog(parent) {
    setWindowTitle(tr("Preview of the scoring page, edition %1").arg(draft->edition));
    resizeToScreen(*this, {qRound(theme.s(1366)), qRound(theme.s(730))});
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    ScoringServices services;
    services.sink = new ForgettingSink(this);
    services.attempt = [](const QString& id) -> core::Result<core::Attempt> {
        return core::fail(core::ErrorKind::NotFound, "a preview keeps no attempt " + ss(id));
    };
    services.rubric = [draft](const std::string&, int) -> core::Result<std::shared_ptr<const core::Rubric>> {
        return draft;
    };
    services.busTitle = [](const std::string&) { return tr("a bus with all equipment"); };
    m_page = new ScoringPage(theme, settings, services);
    column->addWidget(m_page, 1);
    auto* foot = new QHBoxLayout;
    const int side = qRound(theme.s(12));
    foot->setContentsMargins(side, qRound(theme.s(6)), side, qRound(theme.s(6)));
    auto* words = new Text(theme, 13, true, Ink::Full,
                           tr("A preview: press what you like, nothing is kept. Esc closes it."));
    words->setElided();
    foot->addWidget(words, 1);
    auto* close = new KeyButton(theme, tr("Close the preview"), tr("Esc"));
    connect(close, &QPushButton::clicked, this, &QDialog::reject);
    foot->addWidget(close);
    column->addLayout(foot);
    // Whatever ends the attempt ends the preview.
    connect(m_page, &ScoringPage::finished, this, [this] { reject(); });
    (void)m_page->start(draft, previewHeader(*draft));
    m_page->aboutToShow();
    m_page->setFocus();
}

PublishDialog::PublishDialog(const Theme& theme, const Draft& draft, const QString& effect, QWidget* parent)
    : QDialog(parent), m_effect(new Text(theme, 15, true)) {
    const core::Rubric& rubric = draft.rubric();
    setWindowTitle(tr("Put edition %1 in use").arg(rubric.edition));
    resizeToScreen(*this, {qRound(theme.s(820)), qRound(theme.s(480))});
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(10)));
    m_effect->setWordWrap(true);
    m_effect->setText(effect);
    column->addWidget(m_effect);
    auto* stays =
        new Text(theme, 13, false, Ink::Muted,
                 tr("Stored results keep the edition that they were scored with. New attempts can be "
                    "scored with edition %1; once it is in the file it never changes, only a later "
                    "edition can differ. Check limits and order against your state's manual and the "
                    "makers of your buses.")
                     .arg(rubric.edition));
    stays->setWordWrap(true);
    column->addWidget(stays);
    const auto changes = draft.difference();
    auto* head =
        new BlockHead(theme, draft.base() ? tr("Different from edition %1").arg(draft.base()->edition)
                                          : tr("The first edition of this rubric"));
    head->setRemark(draft.base() ? differenceInWords(changes) : QString());
    column->addWidget(head);
    auto* model = new RowsModel(differenceColumns(), this);
    model->setRows(differenceRows(changes, rubric));
    auto* table = new TableView(theme, tr("What is different"));
    table->setModel(model);
    table->setWidths({290, 0});
    table->selectRowAt(0);
    column->addWidget(table, 1);
    auto* buttons = new QDialogButtonBox;
    auto* put =
        buttons->addButton(tr("&Put edition %1 in use").arg(rubric.edition), QDialogButtonBox::AcceptRole);
    put->setProperty("primary", true);
    auto* cancel = buttons->addButton(tr("&Cancel"), QDialogButtonBox::RejectRole);
    cancel->setDefault(true);
    column->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    cancel->setFocus();
}

void PublishDialog::setEffect(const QString& effect) {
    m_effect->setText(effect);
}

}  // namespace markerlamp::app
