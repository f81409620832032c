//! Members of a guild, their invitations and sessions, and whose quilts are whose.
//!
//! Source of what is expected: the roles as `docs/guild.md` states them.

mod places;

use places::{Home, everywhere};
use seamfall_store::{May, MemberId, QuiltId, Role, Store, StoreError};

const NOW: i64 = 1_000;

struct Guild {
    store: Store,
    keeper: MemberId,
    member: MemberId,
}

fn joined(store: &Store, name: &str, role: Role) -> MemberId {
    let invitation = store.invite("hash", role, NOW + 60).expect("it is written");
    store.accept(invitation, NOW, name, "way back").expect("it is open")
}

fn guild(home: &Home) -> Guild {
    let store = home.open();
    let (keeper, member) = (joined(&store, "Ada", Role::Keeper), joined(&store, "Ruth", Role::Member));
    Guild { store, keeper, member }
}

fn quilts(store: &Store, member: MemberId) -> Vec<(QuiltId, Option<May>)> {
    store.quilts_of(member).expect("a list").into_iter().map(|shared| (shared.quilt.id, shared.may)).collect()
}

#[test]
fn an_invitation_is_used_once_until_its_hour_and_can_be_taken_back() {
    everywhere(|home| {
        let Guild { store, .. } = guild(home);
        let [once, late, back] = [60, 60, 60].map(|left| store.invite("hash", Role::Member, NOW + left).expect("it is written"));
        assert_eq!(store.invitations(NOW).expect("a list").len(), 3);
        store.accept(once, NOW, "Mei", "way").expect("it is open");
        store.take_back(back).expect("it is there");
        for (invitation, now) in [(once, NOW), (late, NOW + 60), (back, NOW)] {
            assert!(matches!(store.invitation(invitation, now), Err(StoreError::NoSuchInvitation)));
            assert!(matches!(store.accept(invitation, now, "Eve", "way"), Err(StoreError::NoSuchInvitation)));
        }
        assert!(matches!(store.take_back(back), Err(StoreError::NoSuchInvitation)));
        assert!(store.invitations(NOW + 60).expect("a list").is_empty());
        let names: Vec<_> = store.members().expect("a list").into_iter().map(|member| member.name).collect();
        assert_eq!(names, ["Ada", "Mei", "Ruth"]);
    });
}

#[test]
fn a_session_tells_who_asks_until_it_ends() {
    everywhere(|home| {
        let Guild { store, keeper, member, .. } = guild(home);
        let quilt = store.create_for(member, "quilt", "").expect("it is created");
        let [one, two] = [member, member].map(|each| store.sign_in(each, "key", NOW, NOW + 60).expect("she is signed in"));
        let asking = store.asking(one, NOW, Some(quilt)).expect("an answer").expect("it is open");
        assert_eq!((asking.member, &*asking.name, asking.role, asking.may), (member, "Ruth", Role::Member, Some(May::Make)));
        assert_eq!(store.asking(one, NOW, None).expect("an answer").expect("it is open").may, None);
        assert_eq!(store.asking(one, NOW + 60, None).expect("an answer"), None, "it has ended");
        store.sign_out(one).expect("she is signed out");
        let is_open = |session| store.asking(session, NOW, None).expect("an answer").is_some();
        assert_eq!([one, two].map(is_open), [false, true]);
        let other = store.sign_in(keeper, "key", NOW, NOW + 60).expect("she is signed in");
        store.sign_out_everywhere(member).expect("she is signed out");
        assert_eq!([two, other].map(is_open), [false, true]);
    });
}

#[test]
fn a_quilt_is_its_makers_and_theirs_she_shares_it_with() {
    everywhere(|home| {
        let Guild { store, keeper, member, .. } = guild(home);
        let quilt = store.create_for(member, "quilt", "").expect("it is created");
        let other = store.create_for(keeper, "another", "").expect("it is created");
        assert_eq!(quilts(&store, member), [(quilt, Some(May::Make))]);
        assert_eq!(quilts(&store, keeper), [(other, Some(May::Make)), (quilt, None)], "a keeper sees all");
        for may in [May::Look, May::Edit, May::Tick] {
            store.share(quilt, keeper, Some(may)).expect("both are there");
            assert_eq!(store.may(keeper, quilt).expect("an answer"), Some(may));
        }
        // Nobody else becomes the maker, and she does not stop being it.
        store.share(quilt, keeper, Some(May::Make)).expect("both are there");
        store.share(quilt, member, Some(May::Look)).expect("both are there");
        let parts: Vec<_> = store.parts(quilt).expect("a list").into_iter().map(|(id, _, may)| (id, may)).collect();
        assert_eq!(parts, [(member, May::Make), (keeper, May::Edit)]);
        store.share(quilt, keeper, None).expect("both are there");
        assert_eq!(store.may(keeper, quilt).expect("an answer"), None);
        assert!(matches!(store.share(quilt, MemberId(99), None), Err(StoreError::NoSuchMember)));
        assert!(matches!(store.share(QuiltId(99), keeper, None), Err(StoreError::NoSuchQuilt(_))));
        store.remove(quilt).expect("it is there");
        assert_eq!(quilts(&store, member), []);
    });
}

#[test]
fn a_member_who_leaves_hands_her_quilts_and_own_blocks_on() {
    everywhere(|home| {
        let Guild { store, keeper, member, .. } = guild(home);
        let made = store.create_for(member, "quilt", "").expect("it is created");
        let shared = store.create_for(keeper, "another", "").expect("it is created");
        store.share(made, keeper, Some(May::Look)).expect("both are there");
        store.share(shared, member, Some(May::Edit)).expect("both are there");
        let block = store.keep_block_for(member, "block").expect("it is kept");
        let session = store.sign_in(member, "key", NOW, NOW + 60).expect("she is signed in");
        assert!(store.owns_block(member, block).expect("an answer") && !store.owns_block(keeper, block).expect("an answer"));
        assert!(matches!(store.remove_member(member, MemberId(99)), Err(StoreError::NoSuchMember)));
        assert!(matches!(store.remove_member(member, member), Err(StoreError::NoSuchMember)));
        store.remove_member(member, keeper).expect("both are there");
        assert!(store.asking(session, NOW, None).expect("an answer").is_none());
        assert_eq!(quilts(&store, keeper), [(shared, Some(May::Make)), (made, Some(May::Make))]);
        assert_eq!(store.own_blocks_of(keeper).expect("a list").len(), 1);
        assert!(store.damage().expect("an answer").is_empty());
    });
}

#[test]
fn the_last_keeper_stays() {
    everywhere(|home| {
        let Guild { store, keeper, member, .. } = guild(home);
        assert!(matches!(store.set_role(keeper, Role::Member), Err(StoreError::LastKeeper)));
        assert!(matches!(store.remove_member(keeper, member), Err(StoreError::LastKeeper)));
        assert_eq!(store.member(keeper).expect("she is there").role, Role::Keeper, "nothing was changed");
        store.set_role(member, Role::Keeper).expect("she is there");
        store.set_role(keeper, Role::Member).expect("there is another");
        store.remove_member(keeper, member).expect("there is another");
    });
}

#[test]
fn a_photograph_is_seen_by_those_who_may_look_at_a_quilt_that_shows_it() {
    everywhere(|home| {
        let Guild { store, keeper, member, .. } = guild(home);
        let quilt = store.create_for(member, "quilt", "").expect("it is created");
        let photo = seamfall_store::NewPhoto { name: "moss.jpg", hash: "abc", bytes: b"picture", luminance: 0.5 };
        store.put_photo(quilt, photo).expect("it is kept");
        let sees = |who| store.shows_photo(who, "abc").expect("an answer");
        assert_eq!([member, keeper].map(sees), [true, false]);
        store.share(quilt, keeper, Some(May::Look)).expect("both are there");
        assert!(sees(keeper) && !store.shows_photo(keeper, "abd").expect("an answer"));
    });
}
