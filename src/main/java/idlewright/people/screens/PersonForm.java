package idlewright.people.screens;

import idlewright.people.Role;
import idlewright.people.Staff;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** A person as typed into a form; roles are the words of {@link Role}. */
record PersonForm(
        @Nullable String name,
        @Nullable String signIn,
        @Nullable List<String> roles,
        @Nullable Long version) {

    static PersonForm of(Staff.Colleague colleague) {
        return new PersonForm(
                colleague.name(),
                colleague.signIn(),
                colleague.roles().stream().map(Role::name).toList(),
                colleague.version());
    }

    Set<Role> toRoles() {
        return Stream.of(Role.values())
                .filter(role -> roles != null && roles.contains(role.name()))
                .collect(Collectors.toSet());
    }

    static Map<String, String> options() {
        var options = new LinkedHashMap<String, String>();
        options.put("WRITER", "Service writer: customers, tickets, estimates, invoices");
        options.put("TECHNICIAN", "Technician: tests, readings, swaps");
        options.put("OWNER", "Owner: set-up, statistics, journal");
        return options;
    }
}
