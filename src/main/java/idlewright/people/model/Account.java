package idlewright.people.model;

import idlewright.people.Person;
import idlewright.people.Role;
import jakarta.persistence.CollectionTable;
import jakarta.persistence.Column;
import jakarta.persistence.ElementCollection;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.FetchType;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import java.time.Instant;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** A person with the ways in: sign-in name, password, PIN. A change of a secret or a role ends the open sessions. */
@Entity
@Table(name = "person")
public class Account {

    @Id
    @GeneratedValue(strategy = GenerationType.IDENTITY)
    private Long id;

    @Version
    private long version;

    private String name;
    private String signIn;

    @Nullable
    private String passwordHash;

    @Nullable
    private String pinHash;

    private int generation;
    private Instant hiredAt;

    @Nullable
    private Instant retiredAt;

    @ElementCollection(fetch = FetchType.EAGER)
    @CollectionTable(name = "person_role", joinColumns = @JoinColumn(name = "person_id"))
    @Column(name = "role")
    @Enumerated(EnumType.STRING)
    private Set<Role> roles = new HashSet<>();

    protected Account() {}

    public Account(String name, String signIn, Set<Role> roles, Instant hiredAt) {
        this.name = name;
        this.signIn = signIn;
        this.roles.addAll(roles);
        this.hiredAt = hiredAt;
    }

    public void isCalled(String newName, String newSignIn) {
        name = newName;
        signIn = newSignIn;
    }

    public void works(Set<Role> newRoles) {
        if (!roles.equals(newRoles)) {
            roles.retainAll(newRoles);
            roles.addAll(newRoles);
            generation++;
        }
    }

    public void newPassword(String hash) {
        passwordHash = hash;
        generation++;
    }

    public void newPin(String hash) {
        pinHash = hash;
        generation++;
    }

    public void retire(Instant at) {
        retiredAt = at;
        generation++;
    }

    public Person person() {
        return new Person(id, name, roles.isEmpty() ? Set.of() : EnumSet.copyOf(roles));
    }

    public boolean has(Role role) {
        return roles.contains(role);
    }

    public boolean retired() {
        return retiredAt != null;
    }

    public Long id() {
        return id;
    }

    public long version() {
        return version;
    }

    public String name() {
        return name;
    }

    public String signIn() {
        return signIn;
    }

    public int generation() {
        return generation;
    }

    public Instant hiredAt() {
        return hiredAt;
    }

    public Optional<Instant> retiredAt() {
        return Optional.ofNullable(retiredAt);
    }

    public Optional<String> passwordHash() {
        return Optional.ofNullable(passwordHash);
    }

    public Optional<String> pinHash() {
        return Optional.ofNullable(pinHash);
    }
}
