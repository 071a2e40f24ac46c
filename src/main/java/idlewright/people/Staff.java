package idlewright.people;

import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.people.model.Account;
import idlewright.people.model.Accounts;
import idlewright.people.model.Keys;
import idlewright.people.rules.Weak;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The set-up of people: what they are called, what they do, how they get in, and their leaving. */
@Component
public class Staff {

    /** A person as the set-up pages show it, with the version the form was shown at. */
    public record Colleague(
            long id,
            long version,
            String name,
            String signIn,
            Set<Role> roles,
            boolean password,
            boolean pin,
            Instant hiredAt,
            @Nullable Instant retiredAt) {

        public String rolesInWords() {
            return Role.words(roles);
        }
    }

    private final Accounts accounts;
    private final Keys keys;
    private final People people;
    private final Secrets secrets;
    private final Tries tries;
    private final Standings standings;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final ApplicationEventPublisher events;

    Staff(
            Accounts accounts,
            Keys keys,
            People people,
            Secrets secrets,
            Tries tries,
            Standings standings,
            JdbcClient jdbc,
            Clock clock,
            ApplicationEventPublisher events) {
        this.accounts = accounts;
        this.keys = keys;
        this.people = people;
        this.secrets = secrets;
        this.tries = tries;
        this.standings = standings;
        this.jdbc = jdbc;
        this.clock = clock;
        this.events = events;
    }

    /** Everybody, those who left last. */
    @OnlyReads
    public List<Colleague> everybody() {
        var here = new ArrayList<Colleague>();
        var gone = new ArrayList<Colleague>();
        accounts.byName().forEach(account -> (account.retired() ? gone : here).add(colleague(account)));
        here.addAll(gone);
        return here;
    }

    @OnlyReads
    public Colleague get(long id) {
        return colleague(account(id));
    }

    /** Changes name, sign-in name and roles from what a form of that version showed. */
    @Transactional
    public void change(
            long id, long version, @Nullable String name, @Nullable String signIn, @Nullable Set<Role> roles) {
        oneOwnerChangeAtATime();
        Account account = working(id);
        var problems = new LinkedHashMap<String, String>();
        String newName = People.name(name, problems);
        String newSignIn = people.signIn(signIn, id, problems);
        Set<Role> newRoles = roles == null ? Set.of() : Set.copyOf(roles);
        if (newRoles.isEmpty()) {
            problems.put("roles", "Say what this person does here, or retire the person.");
        } else if (!newRoles.equals(Set.of(Role.TECHNICIAN))
                && account.passwordHash().isEmpty()) {
            problems.put("roles", "Give " + account.name() + " a password first: only a technician can do without.");
        }
        if (account.has(Role.OWNER) && !newRoles.contains(Role.OWNER) && accounts.owners() == 1) {
            problems.put("roles", "The shop needs an owner. Make somebody else an owner first.");
        }
        Refused.ifAny(problems);
        if (account.version() != version) {
            throw new Stale(
                    account.name(),
                    clashes(account, newName, newSignIn, newRoles),
                    "somebody else",
                    null,
                    "/set-up/people/" + id);
        }
        account.isCalled(newName, newSignIn);
        account.works(newRoles);
        keep(account, "person changed", "changed what is written about " + newName + ".");
    }

    /** The owner gives somebody a new password; open sessions of that person end. */
    @Transactional
    public void newPassword(long id, @Nullable String password) {
        Account account = working(id);
        account.newPassword(secrets.hash(strong(account, "password", password)));
        keep(account, "password changed", "gave " + account.name() + " a new password.");
    }

    /** The owner gives a technician a new PIN; open sessions of that person end. */
    @Transactional
    public void newPin(long id, @Nullable String pin) {
        Account account = working(id);
        account.newPin(secrets.hashPin(right(account, "pin", pin)));
        keep(account, "PIN changed", "gave " + account.name() + " a new PIN.");
    }

    /** Changes my own password; all my sessions end but the one that gets the returned badge. */
    @Transactional
    public Badge myPassword(@Nullable String now, @Nullable String password) {
        Account account = proveMe(now, "passwordNow");
        account.newPassword(secrets.hash(strong(account, "password", password)));
        keep(account, "password changed", "changed the own password.");
        return renewed(account);
    }

    /** Changes my own PIN; all my sessions end but the one that gets the returned badge. */
    @Transactional
    public Badge myPin(@Nullable String now, @Nullable String pin) {
        Account account = proveMe(now, "pinNow");
        account.newPin(secrets.hashPin(right(account, "pin", pin)));
        keep(account, "PIN changed", "changed the own PIN.");
        return renewed(account);
    }

    /** Nobody is deleted: what a person did stays under that name. Open sessions and API keys of the person end. */
    @Transactional
    public void retire(long id) {
        oneOwnerChangeAtATime();
        Account account = working(id);
        if (account.has(Role.OWNER) && accounts.owners() == 1) {
            throw Refused.because("The shop needs an owner. Make somebody else an owner first.");
        }
        Person by = people.me();
        account.retire(clock.instant());
        keys.findByMadeByAndRetiredAtIsNull(id).forEach(key -> {
            key.retire(clock.instant(), by.id());
            keys.saveAndFlush(key);
        });
        keep(account, "person retired", "retired " + account.name() + ".");
    }

    private Account proveMe(@Nullable String now, String field) {
        Badge badge = people.badge().orElseThrow();
        Account account = working(badge.person().id());
        try {
            tries.count("person " + account.id(), "own page");
        } catch (SignInRefused tooMany) {
            throw Refused.at(field, String.valueOf(tooMany.getMessage()));
        }
        boolean right = now != null
                && (badge.bay()
                        ? secrets.matchesPin(now, account.pinHash().orElse(null))
                        : secrets.matches(now, account.passwordHash().orElse(null)));
        if (!right) {
            throw Refused.at(field, badge.bay() ? "This is not your PIN of now." : "This is not your password of now.");
        }
        tries.forgive("person " + account.id(), "own page");
        return account;
    }

    private Badge renewed(Account account) {
        Badge badge = people.badge().orElseThrow();
        return new Badge(badge.person(), account.generation(), badge.since(), badge.terminal());
    }

    private static String strong(Account account, String field, @Nullable String password) {
        String typed = password == null ? "" : password;
        Weak.password(typed, account.name(), account.signIn()).ifPresent(why -> {
            throw Refused.at(field, why);
        });
        return typed;
    }

    private static String right(Account account, String field, @Nullable String pin) {
        var problems = new LinkedHashMap<String, String>();
        People.pin(pin == null ? "" : pin, account.person().roles(), problems);
        problems.values().forEach(why -> {
            throw Refused.at(field, why);
        });
        return String.valueOf(pin);
    }

    private void keep(Account account, String kind, String didWhat) {
        accounts.saveAndFlush(account);
        standings.changed(account);
        String who = people.signedIn().map(Person::name).orElse("The system");
        events.publishEvent(new Happened(kind, who + " " + didWhat, Map.of("person", account.id())));
    }

    /** Two owners who retire each other at once must not leave the shop without one. */
    private void oneOwnerChangeAtATime() {
        jdbc.sql("lock table person_role in share row exclusive mode").update();
    }

    private Account account(long id) {
        return accounts.findById(id).orElseThrow(() -> NotFound.of("person " + id));
    }

    private Account working(long id) {
        Account account = account(id);
        if (account.retired()) {
            throw Refused.because(account.name() + " does not work here any more.");
        }
        return account;
    }

    private static List<Stale.Clash> clashes(Account now, String name, String signIn, Set<Role> roles) {
        var clashes = new ArrayList<Stale.Clash>();
        if (!now.name().equals(name)) {
            clashes.add(new Stale.Clash("name", name, now.name()));
        }
        if (!now.signIn().equals(signIn)) {
            clashes.add(new Stale.Clash("sign-in name", signIn, now.signIn()));
        }
        Set<Role> theirs = now.person().roles();
        if (!theirs.equals(roles)) {
            clashes.add(new Stale.Clash("roles", Role.words(roles), Role.words(theirs)));
        }
        return clashes;
    }

    private static Colleague colleague(Account account) {
        return new Colleague(
                account.id(),
                account.version(),
                account.name(),
                account.signIn(),
                account.person().roles(),
                account.passwordHash().isPresent(),
                account.pinHash().isPresent(),
                account.hiredAt(),
                account.retiredAt().orElse(null));
    }
}
