// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Painted parts have no child widgets; here each target becomes an object for assistive technology.

#include "app/scoring/surface.h"

#include <QAccessibleWidget>
#include <QPointer>

#include <map>

namespace markerlamp::app {

namespace {

class TargetInterface final : public QAccessibleInterface, public QAccessibleActionInterface {
public:
    TargetInterface(Surface* surface, int id) : m_surface(surface), m_id(id) {}

    [[nodiscard]] bool isValid() const override { return m_surface != nullptr && m_surface->target(m_id); }
    [[nodiscard]] QObject* object() const override { return nullptr; }
    [[nodiscard]] QWindow* window() const override {
        return m_surface != nullptr ? m_surface->window()->windowHandle() : nullptr;
    }
    [[nodiscard]] QAccessibleInterface* childAt(int, int) const override { return nullptr; }
    [[nodiscard]] QAccessibleInterface* parent() const override {
        return m_surface != nullptr ? QAccessible::queryAccessibleInterface(m_surface) : nullptr;
    }
    [[nodiscard]] QAccessibleInterface* child(int) const override { return nullptr; }
    [[nodiscard]] int childCount() const override { return 0; }
    [[nodiscard]] int indexOfChild(const QAccessibleInterface*) const override { return -1; }
    [[nodiscard]] QString text(QAccessible::Text kind) const override {
        const auto target = current();
        switch (kind) {
            case QAccessible::Name:
                return target.name;
            case QAccessible::Description:
                return target.description;
            case QAccessible::Value:
                return target.description;
            case QAccessible::Accelerator:
                return target.key;
            default:
                return {};
        }
    }
    void setText(QAccessible::Text, const QString&) override {}
    [[nodiscard]] QRect rect() const override {
        if (m_surface == nullptr) return {};
        const QRect local = m_surface->seenRect(current()).toRect();
        return QRect(m_surface->mapToGlobal(local.topLeft()), local.size());
    }
    [[nodiscard]] QAccessible::Role role() const override { return current().role; }
    [[nodiscard]] QAccessible::State state() const override {
        QAccessible::State state;
        const auto target = current();
        state.disabled = !target.enabled;
        state.focusable = target.enabled;
        state.checkable = target.role == QAccessible::CheckBox || target.role == QAccessible::RadioButton;
        state.checked = state.checkable && target.checked;
        state.selected = target.checked;
        state.selectable = target.role == QAccessible::ListItem || target.role == QAccessible::Cell;
        state.invisible = m_surface == nullptr || !m_surface->isVisible();
        return state;
    }
    void* interface_cast(QAccessible::InterfaceType type) override {
        return type == QAccessible::ActionInterface ? static_cast<QAccessibleActionInterface*>(this)
                                                    : nullptr;
    }

    [[nodiscard]] QStringList actionNames() const override {
        const auto target = current();
        return target.enabled ? QStringList{pressAction()} + target.parts : QStringList();
    }
    void doAction(const QString& name) override {
        if (m_surface == nullptr) return;
        const int part = static_cast<int>(current().parts.indexOf(name)) + 1;
        m_surface->activate(m_id, name == pressAction() ? 0 : part);
    }
    [[nodiscard]] QStringList keyBindingsForAction(const QString& name) const override {
        const QString key = current().key;
        return name == pressAction() && !key.isEmpty() ? QStringList{key} : QStringList();
    }

private:
    [[nodiscard]] Surface::Target current() const {
        return m_surface != nullptr ? m_surface->target(m_id).value_or(Surface::Target{}) : Surface::Target{};
    }

    QPointer<Surface> m_surface;
    int m_id;
};

class SurfaceInterface final : public QAccessibleWidget {
public:
    explicit SurfaceInterface(Surface* surface)
        : QAccessibleWidget(surface, QAccessible::Grouping, surface->partName()), m_surface(surface) {}
    ~SurfaceInterface() override {
        for (const auto& [id, child] : m_children) QAccessible::deleteAccessibleInterface(child);
    }

    // Real child widgets (fields) come after the targets.
    [[nodiscard]] int childCount() const override {
        return static_cast<int>(m_surface->targets().size()) + QAccessibleWidget::childCount();
    }
    [[nodiscard]] QAccessibleInterface* child(int index) const override {
        const auto targets = m_surface->targets();
        const int count = static_cast<int>(targets.size());
        if (index < 0) return nullptr;
        if (index >= count) return QAccessibleWidget::child(index - count);
        return interfaceOf(targets[static_cast<std::size_t>(index)].id);
    }
    [[nodiscard]] int indexOfChild(const QAccessibleInterface* child) const override {
        const auto targets = m_surface->targets();
        for (std::size_t i = 0; i < targets.size(); ++i)
            if (interfaceOf(targets[i].id) == child) return static_cast<int>(i);
        const int widget = QAccessibleWidget::indexOfChild(child);
        return widget < 0 ? -1 : widget + static_cast<int>(targets.size());
    }
    [[nodiscard]] QAccessibleInterface* childAt(int x, int y) const override {
        const QPoint local = m_surface->mapFromGlobal(QPoint(x, y));
        for (const Surface::Target& target : m_surface->targets())
            if (m_surface->seenRect(target).contains(local)) return interfaceOf(target.id);
        return QAccessibleWidget::childAt(x, y);
    }

private:
    QAccessibleInterface* interfaceOf(int id) const {
        const auto found = m_children.find(id);
        if (found != m_children.end())
            if (QAccessibleInterface* known = QAccessible::accessibleInterface(found->second)) return known;
        auto* made = new TargetInterface(m_surface, id);
        m_children[id] = QAccessible::registerAccessibleInterface(made);
        return made;
    }

    Surface* m_surface;
    mutable std::map<int, QAccessible::Id> m_children;
};

QAccessibleInterface* makeInterface(const QString& className, QObject* object) {
    Q_UNUSED(className)
    auto* surface = qobject_cast<Surface*>(object);
    return surface != nullptr ? new SurfaceInterface(surface) : nullptr;
}

}  // namespace

void Surface::installAccessibility() {
    // Qt keeps one entry a function, however often it is handed in.
    QAccessible::installFactory(makeInterface);
}

}  // namespace markerlamp::app
