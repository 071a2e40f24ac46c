package idlewright.people.model;

import java.util.List;
import java.util.Optional;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.Repository;
import org.springframework.data.repository.query.Param;

/** Everybody who works or worked here. */
public interface Accounts extends Repository<Account, Long> {

    Account save(Account account);

    Account saveAndFlush(Account account);

    Optional<Account> findById(long id);

    /** Spelled out: a derived query would read the name as "sign in (...)". */
    @Query("select a from Account a where a.signIn = :signIn")
    Optional<Account> findBySignIn(@Param("signIn") String signIn);

    @Query("select a from Account a left join fetch a.roles order by lower(a.name), a.id")
    List<Account> byName();

    @Query(
            "select count(a) from Account a join a.roles r where r = idlewright.people.Role.OWNER and a.retiredAt is null")
    long owners();
}
