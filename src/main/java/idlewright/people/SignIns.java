package idlewright.people;

import idlewright.people.model.Account;
import idlewright.people.model.Accounts;
import java.time.Clock;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Checks passwords and PINs. Not one transaction on purpose: a hash takes a tenth of a second, and no database connection
 * waits for it.
 */
@Component
public class SignIns {

    private static final Logger log = LoggerFactory.getLogger(SignIns.class);

    private final Accounts accounts;
    private final Secrets secrets;
    private final Tries tries;
    private final Clock clock;
    private final People people;
    private final ApplicationEventPublisher events;
    private final TransactionTemplate transaction;

    SignIns(
            Accounts accounts,
            Secrets secrets,
            Tries tries,
            Clock clock,
            People people,
            ApplicationEventPublisher events,
            PlatformTransactionManager transactions) {
        this.accounts = accounts;
        this.secrets = secrets;
        this.tries = tries;
        this.clock = clock;
        this.people = people;
        this.events = events;
        this.transaction = new TransactionTemplate(transactions);
    }

    /** A desk session with all the person's roles. */
    public Badge byPassword(String signIn, String password, String address) {
        String name = People.plainSignIn(signIn);
        count(name, address);
        Optional<Account> account = accounts.findBySignIn(name).filter(known -> !known.retired());
        boolean right =
                secrets.matches(password, account.flatMap(Account::passwordHash).orElse(null));
        if (account.isEmpty() || !right) {
            throw refuse(name, address, "This name and password do not belong together. Check both and try again.");
        }
        tries.forgive(name, address);
        Badge badge = new Badge(account.get().person(), account.get().generation(), clock.instant(), null);
        tell(badge.person(), "a password", address);
        return badge;
    }

    /** A bay session: a technician and nothing else, whatever other roles the person has. */
    public Badge byPin(Terminal terminal, long person, String pin) {
        String where = "terminal " + terminal.id();
        count("person " + person, where);
        Optional<Account> account =
                accounts.findById(person).filter(known -> !known.retired() && known.has(Role.TECHNICIAN));
        boolean right =
                secrets.matchesPin(pin, account.flatMap(Account::pinHash).orElse(null));
        if (account.isEmpty() || !right) {
            throw refuse("person " + person, where, "This is not the right PIN. Try again.");
        }
        tries.forgive("person " + person, where);
        Person whole = account.get().person();
        Person inTheBay = new Person(whole.id(), whole.name(), Set.of(Role.TECHNICIAN));
        tell(inTheBay, "a PIN", terminal.name());
        return new Badge(inTheBay, account.get().generation(), clock.instant(), terminal.id());
    }

    private void count(String who, String where) {
        try {
            tries.count(who, where);
        } catch (SignInRefused tooMany) {
            log.warn("Too many tries to sign in as {} from {}", onOneLine(who), where);
            throw tooMany;
        }
    }

    /** To the log only: a guesser must not be able to fill the journal. */
    private static SignInRefused refuse(String who, String where, String sentence) {
        log.warn("Sign-in refused for {} from {}", onOneLine(who), where);
        return new SignInRefused(sentence);
    }

    private void tell(Person who, String by, String where) {
        people.as(
                who,
                () -> transaction.execute(status -> {
                    events.publishEvent(new Happened(
                            "signed in",
                            who.name() + " signed in with " + by + ".",
                            Map.of("person", who.id(), "where", where)));
                    return true;
                }));
    }

    /** What was typed must not be able to forge a line of the log. */
    private static String onOneLine(String typed) {
        String line = typed.replaceAll("\\p{Cntrl}", " ");
        return line.length() > 60 ? line.substring(0, 60) : line;
    }
}
