from django.urls import path

from house.views import own, people

app_name = "house"
urlpatterns = [
    path("people/", people.people_list, name="people"),
    path("people/new/", people.person_new, name="new"),
    path("people/<int:pk>/", people.person, name="person"),
    path("measures/", people.measures, name="measures"),
    path("people/<int:pk>/link/", people.new_link, name="new_link"),
    path("people/<int:pk>/let-go/", people.person_let_go, name="let_go"),
    path("people/<int:pk>/take-back/", people.person_take_back, name="take_back"),
    path("account/", own.account, name="account"),
    path("account/password/", own.own_password, name="password"),
    path("enter/<str:token>/", own.enter, name="enter"),
]
